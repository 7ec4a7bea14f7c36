import { describe, expect, test } from 'vitest'
import { blackbodyFractionBelow } from '../../src/physics/blackbody-fraction.ts'
import { WIEN_DISPLACEMENT } from '../../src/physics/constants.ts'
import {
  allDayDistanceM,
  eyeLimitSeconds,
  heatAtDistance,
  infraredExitance,
  infraredShade,
  skinLimitSeconds,
} from '../../src/physics/heat-exposure.ts'
import { kelvinFromCelsius } from '../../src/physics/units.ts'

/** A bar of 30 x 300 mm. */
const bar = (celsius: number) => ({
  temperatureK: kelvinFromCelsius(celsius),
  emissivity: 0.8,
  areaM2: 0.03 * 0.3,
})

describe('the share of a black body below a wavelength', () => {
  // Simpson's rule on Planck's law, 400,000 steps, by an independent program; the handbooks' table
  // (e.g. Incropera & DeWitt, 12.1, from memory) agrees in its first four digits.
  test.each([
    [1000, 0.00032077],
    [2000, 0.06672994],
    [3000, 0.27322926],
    [4000, 0.48086464],
    [6000, 0.73778942],
    [10000, 0.91415697],
  ])('at %i µm K', (productUmK, share) => {
    expect(blackbodyFractionBelow((productUmK * 1e-6) / 1000, 1000)).toBeCloseTo(share, 7)
  })

  test('a quarter lies below the peak of the spectrum (Wien)', () => {
    expect(blackbodyFractionBelow(WIEN_DISPLACEMENT / 1000, 1000)).toBeCloseTo(0.25, 3)
  })

  test('nothing lies below zero wavelength, nearly all below a millimetre', () => {
    expect(blackbodyFractionBelow(0, 1000)).toBe(0)
    expect(blackbodyFractionBelow(70e-6, 1000)).toBeGreaterThan(0.999)
  })
})

describe('heat at a distance', () => {
  // Worked from Planck's law and the limits of ICNIRP 2013 by an independent program.
  test('900 °C, emissivity 0.8, 30 x 300 mm at 0.5 m', () => {
    const { totalWm2, eyeShare } = infraredExitance(kelvinFromCelsius(900))
    expect(totalWm2 / 1000).toBeCloseTo(107.4, 1)
    expect(100 * eyeShare).toBeCloseTo(38.7, 1)
    const at = heatAtDistance(bar(900), 0.5)
    expect(at.eyeWm2).toBeCloseTo(381, 0)
    expect(at.eyeSeconds).toBeCloseTo(171, 0)
    expect(allDayDistanceM(bar(900))).toBeCloseTo(0.98, 2)
  })

  test('1200 °C', () => {
    const at = heatAtDistance(bar(1200), 0.5)
    expect(at.eyeWm2).toBeCloseTo(1348, 0)
    expect(at.eyeSeconds).toBeCloseTo(32, 0)
    expect(allDayDistanceM(bar(1200))).toBeCloseTo(1.84, 2)
  })

  test('the eye may look all day at 100 W/m2, and not a little above', () => {
    expect(eyeLimitSeconds(100)).toBe(Number.POSITIVE_INFINITY)
    // 18000 t^-0.75 meets 100 W/m2 at 1017 s; the limit counts up to 1000 s.
    expect(eyeLimitSeconds(100.1)).toBe(1000)
  })

  test('the skin has a limit up to ten seconds, and none published beyond', () => {
    // 20000 x 10^-0.75 = 3557 W/m2.
    expect(skinLimitSeconds(3557)).toBeCloseTo(10, 2)
    expect(skinLimitSeconds(3550)).toBeNull()
    expect(skinLimitSeconds(20_000)).toBeCloseTo(1, 6)
  })

  test('touching the piece is no more than what leaves it', () => {
    const { totalWm2 } = infraredExitance(kelvinFromCelsius(900))
    expect(heatAtDistance(bar(900), 0.001).totalWm2).toBeCloseTo(0.8 * totalWm2, 6)
  })
})

test('filters of EN 171 by the temperature of the source, from memory', () => {
  expect(infraredShade(kelvinFromCelsius(900))).toBe('4-1.2')
  expect(infraredShade(kelvinFromCelsius(1050))).toBe('4-1.2')
  expect(infraredShade(kelvinFromCelsius(1051))).toBe('4-1.4')
  expect(infraredShade(kelvinFromCelsius(2150))).toBe('4-10')
  expect(infraredShade(kelvinFromCelsius(2200))).toBeNull()
})
