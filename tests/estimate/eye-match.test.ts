import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { CHART_SPREAD_K, eyeMatch, SCREEN_SPREAD_K } from '../../src/estimate/eye-match.ts'
import { kelvinFromCelsius } from '../../src/physics/units.ts'

describe('a match by eye', () => {
  it('takes its spread from colours that both published charts name', () => {
    // Chapman 1972 and Stirling 1905 as printed: dark red 705-814 against dull red 699; cherry red
    // 815-870 against full cherry 900; light cherry red 871-981 against clear cherry 1000; orange
    // 982-1092 against deep orange 1100. By hand: differences 61, -57, -73.5, -62.5 K.
    const byHand = Math.sqrt((61 ** 2 + 57 ** 2 + 73.5 ** 2 + 62.5 ** 2) / 4 / 2)
    expect(CHART_SPREAD_K).toBeCloseTo(byHand, 6)
    expect(Math.round(CHART_SPREAD_K)).toBe(45)
  })

  it('is the middle of the bracket, with half its width over the square root of three (GUM 4.3.7)', () => {
    const match = eyeMatch(kelvinFromCelsius(930), kelvinFromCelsius(870))
    expect(match.temperatureK).toBeCloseTo(kelvinFromCelsius(900), 9)
    expect(match.bracketUncertaintyK).toBeCloseTo(30 / Math.sqrt(3), 9)
    expect(match.standardUncertaintyK).toBeCloseTo(Math.hypot(30 / Math.sqrt(3), CHART_SPREAD_K), 9)
  })

  it('does not care which side came first, and is never surer than the charts', () => {
    const kelvin = fc.double({ min: 700, max: 3000, noNaN: true })
    fc.assert(
      fc.property(kelvin, kelvin, (a, b) => {
        expect(eyeMatch(a, b)).toEqual(eyeMatch(b, a))
        expect(eyeMatch(a, b).standardUncertaintyK).toBeGreaterThanOrEqual(CHART_SPREAD_K)
      }),
    )
  })
})

it('a match with a picture is no surer than what the camera stores', () => {
  const match = eyeMatch(1200, 1160, 80)
  expect(match.lookUncertaintyK).toBe(80)
  // Root sum of squares (GUM 5.1.2).
  expect(match.standardUncertaintyK).toBeCloseTo(
    Math.hypot(20 / Math.sqrt(3), CHART_SPREAD_K, 80),
    9,
  )
})

it('the piece itself is held against a screen, whose colours are off by some', () => {
  const match = eyeMatch(1200, 1160, 0, SCREEN_SPREAD_K)
  // Root sum of squares (GUM 5.1.2).
  expect(match.standardUncertaintyK).toBeCloseTo(
    Math.hypot(20 / Math.sqrt(3), CHART_SPREAD_K, SCREEN_SPREAD_K),
    9,
  )
  // 0.005 in u'v' over what the locus moves from 1000 to 1500 K (Wyszecki & Stiles, from memory).
  expect(SCREEN_SPREAD_K).toBeCloseTo(0.005 / (0.09 / 500), 0)
})
