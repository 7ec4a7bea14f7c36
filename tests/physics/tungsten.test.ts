import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  TUNGSTEN_EMISSIVITY_UNCERTAINTY,
  TUNGSTEN_LOG_RATIO_UNCERTAINTY,
  TUNGSTEN_RESISTANCE_RATIO_RELATIVE_UNCERTAINTY,
  tungstenBrightnessTemperature,
  tungstenColourTemperature,
  tungstenLogEmissivityRatio,
  tungstenResistanceRatio,
  tungstenSpectralEmissivity,
  tungstenTemperatureFromResistanceRatio,
  tungstenTotalEmissivity,
  tungstenTrueFromBrightness,
  tungstenTrueFromColour,
  tungstenTrueUncertainty,
} from '../../src/physics/tungsten.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

const temperature = fc.double({ min: 300, max: 3600, noNaN: true })
const hot = fc.double({ min: 900, max: 3500, noNaN: true })

/**
 * A stated standard uncertainty against what two independent sources disagree by at most: half of it
 * (k = 2) has to cover that, and more than all of it would be known too little.
 */
function expectHonest(stated: number, disagreements: readonly number[], limit: number): void {
  const largest = Math.max(...disagreements.map(Math.abs))
  expect(largest).toBeLessThan(limit)
  expect(stated).toBeGreaterThan(largest / 2)
  expect(stated).toBeLessThan(largest)
}

describe('tungsten resistance', () => {
  it('has the R/R300 of the CRC Handbook, after Jones & Langmuir 1927 (from memory)', () => {
    const printed = {
      400: '1.43',
      600: '2.34',
      800: '3.36',
      1000: '4.41',
      1200: '5.48',
      1500: '7.14',
      1800: '8.86',
      2000: '10.03',
      2200: '11.24',
      2500: '13.08',
      2700: '14.34',
      2800: '14.99',
      3000: '16.29',
      3200: '17.62',
      3400: '18.97',
    }
    for (const [kelvin, ratio] of Object.entries(printed))
      expectPrinted(tungstenResistanceRatio(Number(kelvin)), ratio, `${kelvin} K`)
  })

  it('falls below the table with a temperature coefficient near 0.0045 / K (CRC, from memory)', () => {
    const coefficient = (1 - tungstenResistanceRatio(280)) / 20
    expect(coefficient).toBeGreaterThan(0.0038)
    expect(coefficient).toBeLessThan(0.0048)
  })

  it('agrees with a later compilation for the pure metal within 2 %, as it says of itself', () => {
    // CRC Handbook, Electrical resistivity of pure metals, W, 1e-8 ohm m (from memory), as ratios.
    const compiled = [
      [500, 10.3],
      [700, 15.7],
      [900, 21.5],
    ] as const
    expectHonest(
      TUNGSTEN_RESISTANCE_RATIO_RELATIVE_UNCERTAINTY,
      compiled.map(([kelvin, rho]) => tungstenResistanceRatio(kelvin) / (rho / 5.44) - 1),
      0.02,
    )
  })

  it('rises and inverts over its whole range', () => {
    fc.assert(
      fc.property(temperature, (t) => {
        expect(tungstenResistanceRatio(t + 1)).toBeGreaterThan(tungstenResistanceRatio(t))
        expectClose(tungstenTemperatureFromResistanceRatio(tungstenResistanceRatio(t)), t, 1e-11)
      }),
    )
  })
})

describe('tungsten emissivity', () => {
  it('has 0.435 at 0.665 um and 0.469 at 0.467 um at 2000 K (Forsythe & Worthing, from memory)', () => {
    expectPrinted(tungstenSpectralEmissivity(665, 2000), '0.435')
    expectPrinted(tungstenSpectralEmissivity(467, 2000), '0.469')
    expectPrinted(tungstenTotalEmissivity(2000), '0.26')
  })

  // Larrabee 1959 (J. Opt. Soc. Am. 49, 619), an independent measurement, 1600 to 2400 K, um and K,
  // from memory; the pieces join at 0.45 and 0.68 um within 0.0003.
  const larrabee = (nm: number, t: number): number => {
    const um = nm / 1000
    if (um < 0.45) return 0.6075 - 0.3 * um - 0.3265e-4 * t + 0.59e-4 * um * t
    if (um < 0.68) return 0.4655 + 0.01558 * um + 0.2675e-4 * t - 0.7305e-4 * um * t
    return 0.6552 - 0.2633 * um - 0.7333e-4 * t + 0.7417e-4 * um * t
  }

  const MEASURED_K = [1600, 2000, 2400]

  it('agrees with Larrabee 1959 within 0.02, as it says of itself', () => {
    const differences = MEASURED_K.flatMap((t) =>
      Array.from({ length: 39 }, (_, i) => 400 + 10 * i).map(
        (nm) => tungstenSpectralEmissivity(nm, t) - larrabee(nm, t),
      ),
    )
    expectHonest(TUNGSTEN_EMISSIVITY_UNCERTAINTY, differences, 0.02)
  })

  it('has the green-to-red slope of Larrabee 1959 within 0.02, as it says of itself', () => {
    const differences = MEASURED_K.map(
      (t) =>
        tungstenLogEmissivityRatio(550, 650, t) - Math.log(larrabee(550, t) / larrabee(650, t)),
    )
    expectHonest(TUNGSTEN_LOG_RATIO_UNCERTAINTY, differences, 0.02)
  })

  it('stays between 0 and 1', () => {
    fc.assert(
      fc.property(temperature, fc.double({ min: 360, max: 830, noNaN: true }), (t, nm) => {
        const e = tungstenSpectralEmissivity(nm, t)
        expect(e > 0 && e < 1).toBe(true)
        const total = tungstenTotalEmissivity(t)
        expect(total > 0 && total < 1).toBe(true)
      }),
    )
  })
})

describe('tungsten temperature scales', () => {
  it('gives brightness 1857 K and colour 2033 K at 2000 K true (Forsythe & Worthing, from memory)', () => {
    expectPrinted(tungstenBrightnessTemperature(2000), '1857')
    expectPrinted(tungstenColourTemperature(2000), '2033')
  })

  it('gives colour 2557 K at 2500 K true (Forsythe & Worthing, from memory)', () => {
    expectPrinted(tungstenColourTemperature(2500), '2557')
  })

  it('gives the brightness 966, 2274 and 2673 K at 1000, 2500, 3000 K (from memory)', () => {
    // Recalled: one printed digit, and half of one for its rounding.
    for (const [t, brightness] of [
      [1000, 966],
      [2500, 2274],
      [3000, 2673],
    ] as const)
      expect(Math.abs(tungstenBrightnessTemperature(t) - brightness)).toBeLessThanOrEqual(1.5)
  })

  it('carries an uncertainty from colour to true temperature by the slope of the two', () => {
    // Colour 2033 and 2557 K at 2000 and 2500 K (Forsythe & Worthing 1925, from memory): a mean slope
    // of 500/524, known from whole kelvins to 0.002.
    const mean = (tungstenTrueUncertainty(2033, 1) + tungstenTrueUncertainty(2557, 1)) / 2
    expect(Math.abs(mean - 500 / 524)).toBeLessThan(0.002)
    expectClose(tungstenTrueUncertainty(2300, 25), 25 * tungstenTrueUncertainty(2300, 1), 1e-9)
  })

  it('round-trips, orders brightness < true < colour, and rises', () => {
    fc.assert(
      fc.property(hot, (t) => {
        const brightness = tungstenBrightnessTemperature(t)
        const colour = tungstenColourTemperature(t)
        expect(brightness).toBeLessThan(t)
        expect(colour).toBeGreaterThan(t)
        expect(tungstenColourTemperature(t + 1)).toBeGreaterThan(colour)
        expectClose(tungstenTrueFromBrightness(brightness), t, 1e-9)
        expectClose(tungstenTrueFromColour(colour), t, 1e-9)
      }),
    )
  })
})
