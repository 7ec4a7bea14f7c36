import { expect, test } from 'vitest'
import { estimateGlow } from '../../../src/estimate/estimate-glow.ts'
import {
  bandIsNarrow,
  bandPlace,
  bandPlaceIsLikely,
  bandPlaceIsSure,
  figureByLine,
  liveLine,
  REACH,
} from '../../../src/estimate/live/live-line.ts'
import { input } from './live-glow.ts'

test('within its reach the line says what the whole estimate says, to 2 K', () => {
  const line = liveLine(input)
  for (const step of [-REACH, -0.02, 0, 0.02, REACH]) {
    const at = figureByLine(line, line.lnRatio + step, 0.001)
    const [r, g, b] = input.glow.mean
    const whole = estimateGlow({
      ...input,
      glow: { ...input.glow, mean: [r, g * Math.exp(step), b] },
    })
    if (whole.kind !== 'temperature' || !at) throw new Error('no temperature')
    expect(Math.abs(at.temperatureK - whole.temperatureK)).toBeLessThan(2)
  }
})

test('beyond its reach it is silent', () => {
  const line = liveLine(input)
  for (const sign of [1, -1]) {
    expect(figureByLine(line, line.lnRatio + sign * 0.048, 0.001)).not.toBeNull()
    expect(figureByLine(line, line.lnRatio + sign * 0.052, 0.001)).toBeNull()
  }
})

test('noise adds to the statistical part alone', () => {
  const line = liveLine(input)
  const calm = figureByLine(line, line.lnRatio, 0)!
  const noisy = figureByLine(line, line.lnRatio, 0.1)!
  expect(calm.statisticalK).toBe(0)
  expect(noisy.systematicK).toBe(calm.systematicK)
  // Slope of Wien's law: dT = T^2 / c2 / (1/550 nm - 1/650 nm) per ln(G/R), about 34 K for 0.1 near
  // 1170 K; the camera's own slope differs by its broad channels.
  expect(noisy.statisticalK).toBeGreaterThan(25)
  expect(noisy.statisticalK).toBeLessThan(50)
  expect(noisy.expandedUncertaintyK).toBeGreaterThan(calm.expandedUncertaintyK)
})

test('a band says below, inside, above, and is narrow when the interval is wider', () => {
  const band = { fromK: 1073, toK: 1103 }
  expect(bandPlace(1072, band)).toBe('below')
  expect(bandPlace(1090, band)).toBe('inside')
  expect(bandPlace(1104, band)).toBe('above')
  expect(bandIsNarrow(band, 16)).toBe(true)
  expect(bandIsNarrow(band, 14)).toBe(false)
})

test('a place is sure when the whole interval lies there', () => {
  const band = { fromK: 1000, toK: 1100 }
  const at = (temperatureK: number, expandedUncertaintyK: number) =>
    bandPlaceIsSure({ temperatureK, expandedUncertaintyK, statisticalK: 0, systematicK: 0 }, band)
  expect(at(1050, 40)).toBe(true)
  expect(at(1050, 60)).toBe(false)
  expect(at(950, 40)).toBe(true)
  expect(at(950, 60)).toBe(false)
  expect(at(1200, 250)).toBe(false)
})

test('a place is likely when more than half of the spread lies there', () => {
  const likely = (temperatureK: number, expandedUncertaintyK: number, fromK = 1000, toK = 1100) =>
    bandPlaceIsLikely(
      { temperatureK, expandedUncertaintyK, statisticalK: 0, systematicK: 0 },
      { fromK, toK },
    )
  // Quartiles of the normal distribution lie at 0.6745 standard deviations (any table of it).
  expect(likely(1050, (2 * 50) / 0.66)).toBe(false)
  expect(likely(1050, (2 * 50) / 0.69)).toBe(true)
  expect(likely(1223, 130, 1213, 1233)).toBe(false)
  // Outside, the figure's side of the band always holds more than half.
  expect(likely(999, 300)).toBe(true)
  expect(likely(1101, 300)).toBe(true)
})
