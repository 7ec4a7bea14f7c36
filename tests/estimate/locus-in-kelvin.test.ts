import { expect, test } from 'vitest'
import { locusInKelvin } from '../../src/estimate/locus-in-kelvin.ts'

const temperatureK = [1000, 1200, 1600]
/** Rises by 0.0004 a kelvin, then by 0.0002. */
const median = [0.06, 0.14, 0.22]
const around = (by: number) => ({
  temperatureK,
  median,
  low95: median.map((m) => m - by),
  high95: median.map((m) => m + by),
})

const seen = locusInKelvin({
  prior: { ...around(0.02), median: median.map((m) => m + 0.01) },
  posterior: around(0.004),
  references: [
    {
      id: 'salt',
      temperatureK: 1100,
      standardUncertaintyK: 6,
      greenOverRed: 0.102,
      standardUncertainty: 0.0032,
    },
  ],
})

// Worked by hand: a ratio of 0.004 is 10 K where the median rises by 0.0004 a kelvin, 20 K where it
// rises by 0.0002.
test('bands are in kelvin about the camera as it is known now', () => {
  expect(seen.posterior.high95K.map(Math.round)).toEqual([10, 20, 20])
  expect(seen.posterior.low95K.map(Math.round)).toEqual([-10, -20, -20])
  expect(seen.prior.high95K.map(Math.round)).toEqual([50, 100, 100])
  expect(seen.prior.medianK.map(Math.round)).toEqual([25, 50, 50])
  expect(seen.posterior.medianK.map(Math.round)).toEqual([0, 0, 0])
})

// 0.102 less 0.10 is 5 K; 6 K and 0.0032 / 0.0004 = 8 K make 10 K.
test('references stand where they depart, with temperature and photo in their bar', () => {
  expect(seen.references[0]?.residualK).toBeCloseTo(5, 9)
  expect(seen.references[0]?.standardUncertaintyK).toBeCloseTo(10, 9)
})
