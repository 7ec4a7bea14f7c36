import { expect, test } from 'vitest'
import { correctedRadiance } from '../../../src/estimate/spectrum/corrected.ts'
import { interpolate, resample, sameGrid } from '../../../src/estimate/spectrum/interpolate.ts'
import { logPlanck } from '../../../src/estimate/spectrum/lamp.ts'
import { ratioReading } from '../../../src/estimate/spectrum/ratio.ts'
import { SECOND_RADIATION_CONSTANT } from '../../../src/physics/constants.ts'

const T = 1300
const planck = (nm: number) => Math.exp(logPlanck(nm, T) - logPlanck(700, T))
const wavelengthNm = Array.from({ length: 201 }, (_, i) => 500 + i)
const spectrum = (relativeNoise = 0, factor = (_: number) => 1) => ({
  wavelengthNm,
  radiance: wavelengthNm.map((nm) => factor(nm) * planck(nm)),
  sigma: wavelengthNm.map((nm) => relativeNoise * planck(nm)),
  fit: wavelengthNm.map(planck),
})
const EXACT = { emitter: 'black body', colourTemperatureK: 2700, standardUncertaintyK: 0 } as const
const GREY = { spectral: 'grey', lnGreenOverRed: 0, standardUncertainty: 0 } as const

test('two bands of a black body give its temperature, in whatever order they are asked for', () => {
  const reading = ratioReading(spectrum(), planck, [650, 550], EXACT, GREY)!
  expect([reading.shortNm, reading.longNm]).toEqual([550, 650])
  expect(reading.ratioTemperatureK).toBeCloseTo(T, 6)
  expect(reading.standardUncertaintyK).toBe(0)
})

test('a third less light at the longer wavelength reads hotter by the rule of two-colour pyrometry', () => {
  // 1/T - 1/T' = lambda' ln(quotient of emissivities) / c2, lambda' = ab / (b - a): Wien, common practice.
  const dimmed = spectrum(0, (nm) => (nm > 600 ? 2 / 3 : 1))
  const { ratioTemperatureK } = ratioReading(dimmed, planck, [550, 650], EXACT, GREY)!
  const lambda = (550e-9 * 650e-9) / 100e-9
  const byRule = 1 / (1 / T - (lambda * Math.log(1.5)) / SECOND_RADIATION_CONSTANT)
  expect(ratioTemperatureK).toBeCloseTo(byRule, 0)
})

test('noise, lamp and surface each widen it by their share', () => {
  const lambda = (550e-9 * 650e-9) / 100e-9
  const perLn = (T ** 2 * lambda) / SECOND_RADIATION_CONSTANT
  const u = (...parts: Parameters<typeof ratioReading>) =>
    ratioReading(...parts)!.standardUncertaintyK
  // Eleven samples of 1 % in each band of 10 nm: 1 % / sqrt(11) each, a little more where they rise.
  const noisy = u(spectrum(0.01), planck, [550, 650], EXACT, GREY)
  expect(noisy / (perLn * 0.01 * Math.sqrt(2 / 11))).toBeCloseTo(1, 1)
  const sloped = { ...GREY, standardUncertainty: 0.03 }
  expect(u(spectrum(), planck, [550, 650], EXACT, sloped)).toBeCloseTo(perLn * 0.03, 6)
  const lamp = { ...EXACT, standardUncertaintyK: 30 }
  // A lamp off by dT is off by c2 (1/a - 1/b) dT / T^2 in the quotient.
  const offBy = (SECOND_RADIATION_CONSTANT / lambda) * (30 / 2700 ** 2)
  expect(u(spectrum(), planck, [550, 650], lamp, GREY)).toBeCloseTo(perLn * offBy, 1)
})

test('no reading where the bands meet, leave the spectrum, or hold no light', () => {
  const at = (short: number, long: number, of = spectrum()) =>
    ratioReading(of, planck, [short, long], EXACT, GREY)
  expect(at(550, 560)).toBeNull()
  expect(at(550, 560.5)).not.toBeNull()
  expect(at(504, 650)).toBeNull()
  expect(at(505, 695)).not.toBeNull()
  expect(at(550, 696)).toBeNull()
  expect(
    at(
      550,
      650,
      spectrum(0, (nm) => (nm < 600 ? 0 : 1)),
    ),
  ).toBeNull()
  expect(
    at(
      550,
      650,
      spectrum(0, (nm) => (nm < 600 ? 1 : -1)),
    ),
  ).toBeNull()
})

test('a band counts its two ends, and takes the shape within it from the fit', () => {
  const rising = { wavelengthNm: [1, 2, 3, 4, 5], radiance: [1, 2, 3, 4, 5] }
  const of = { ...rising, sigma: [3, 0, 0, 0, 4], fit: [2, 4, 6, 8, 10] }
  expect(correctedRadiance(of, (nm) => 2 * nm, 3, 2)).toEqual({ radiance: 3, sigma: 1 })
  expect(correctedRadiance(of, (nm) => 2 * nm, 3, 1.9)).toEqual({ radiance: 3, sigma: 0 })
  expect(correctedRadiance({ ...of, fit: [0, 0, 0, 0, 0] }, (nm) => nm, 3, 2)).toBeNull()
})

test('values between grid points lie on straight lines, beyond the ends they stay', () => {
  const [x, y] = [
    [10, 12, 20],
    [1, 5, 1],
  ]
  const onto = [9, 10, 10.5, 12, 14, 20, 21]
  const expected = [1, 1, 2, 5, 4, 1, 1]
  expect([...resample(x, y, onto)]).toEqual(expected)
  expect(onto.map((at) => interpolate(x, y, at))).toEqual(expected)
  expect(interpolate([3], [7], 8)).toBe(7)
  expect(sameGrid(x, [10, 12, 20 + 1e-9])).toBe(true)
  expect([sameGrid(x, [10, 12]), sameGrid(x, [10, 12, 20.001])]).toEqual([false, false])
})
