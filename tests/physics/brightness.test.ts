import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { erf, erfc } from '../../src/numerics/error-function.ts'
import {
  type BrightnessInput,
  bandRadiance,
  brightnessTemperatureFromLevel,
  exposureFactor,
  exposureRatioUncertainty,
  hotterThanBefore,
  levelUnderBlur,
  type PassBand,
  temperatureFromBand,
} from '../../src/physics/brightness.ts'
import { greyEmissivity } from '../../src/physics/emissivity.ts'
import { planckRadiance } from '../../src/physics/planck.ts'
import { tungstenSpectralEmissivity } from '../../src/physics/tungsten.ts'
import { kelvinFromCelsius } from '../../src/physics/units.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

const narrow: PassBand = { wavelengthNm: [650], weight: [1] }
// A made-up red: a bell 40 nm wide around 610 nm.
const red: PassBand = {
  wavelengthNm: Array.from({ length: 61 }, (_, i) => 520 + 4 * i),
  weight: Array.from({ length: 61 }, (_, i) => Math.exp(-0.5 * ((520 + 4 * i - 610) / 40) ** 2)),
}
const exposure = { exposureSeconds: 1 / 100, iso: 100, fNumber: 1.8 }
const black = { emissivity: greyEmissivity(1), relativeUncertainty: 0 }
const grey = (e: number, relativeUncertainty = 0) => ({
  emissivity: greyEmissivity(e),
  relativeUncertainty,
})
const exact = (value: number) => ({ value, standardUncertainty: 0 })

/** What a linear camera would show of a surface, against 1 for a black body at 1073.6 K. */
function photographed(
  band: PassBand,
  kelvin: number,
  e: number,
  change: Partial<BrightnessInput> = {},
) {
  const level = bandRadiance(band, kelvin, greyEmissivity(e)) / bandRadiance(band, 1073.6)
  return brightnessTemperatureFromLevel({
    band,
    bandShiftNm: 0,
    glow: { level: exact(level), exposure },
    surface: grey(e),
    reference: { level: exact(1), exposure, temperature: exact(1073.6), surface: black },
    ...change,
  })!
}

describe('brightness temperature from a level', () => {
  it('at 0.65 um gives the corrections of Kaye & Laby 2.3.4 to the printed kelvin', () => {
    // e 0.1, 0.4, 0.8 of the rows 600 to 2000 °C (the 3000 °C row is Wien's, see wien.test.ts).
    const rows = {
      600: [87, 33, 8],
      800: [135, 50, 12],
      1000: [194, 71, 17],
      1200: [267, 96, 22],
      1400: [353, 125, 29],
      1600: [453, 157, 36],
      2000: [704, 236, 53],
    }
    for (const [celsius, corrections] of Object.entries(rows))
      for (const [i, e] of [0.1, 0.4, 0.8].entries()) {
        const observed = kelvinFromCelsius(Number(celsius))
        const level = bandRadiance(narrow, observed) / bandRadiance(narrow, 1073.6)
        const { temperatureK, brightnessTemperatureK } = brightnessTemperatureFromLevel({
          band: narrow,
          bandShiftNm: 0,
          glow: { level: exact(level), exposure },
          surface: grey(e),
          reference: { level: exact(1), exposure, temperature: exact(1073.6), surface: black },
        })!
        expectClose(brightnessTemperatureK, observed, 1e-9)
        expectPrinted(temperatureK - observed, String(corrections[i]), `${celsius} °C, e ${e}`)
      }
  })

  it('over the band of a camera is not that of one wavelength, and finds the truth', () => {
    for (const kelvin of [900, 1173, 1600, 2400]) {
      const seen = photographed(red, kelvin, 0.8)
      expectClose(seen.temperatureK, kelvin, 1e-9)
      expect(seen.brightnessTemperatureK).toBeLessThan(kelvin)
    }
    // Taking 650 nm for this band is 13 K off at 1600 K from a reference at 1073.6 K: a photo's red is broad.
    const level = bandRadiance(red, 1600) / bandRadiance(red, 1073.6)
    const wrong = temperatureFromBand(narrow, level * bandRadiance(narrow, 1073.6))
    expect(Math.abs(wrong - 1600)).toBeGreaterThan(10)
  })

  it('uses an emissivity that changes over the band (tungsten, Forsythe & Worthing)', () => {
    const level = bandRadiance(red, 2000, tungstenSpectralEmissivity)
    const surface = { emissivity: tungstenSpectralEmissivity, relativeUncertainty: 0.02 }
    const reference = {
      level: exact(bandRadiance(red, 1073.6)),
      exposure,
      temperature: exact(1073.6),
      surface: black,
    }
    const result = brightnessTemperatureFromLevel({
      band: red,
      bandShiftNm: 0,
      glow: { level: exact(level), exposure },
      surface,
      reference,
    })!
    expectClose(result.temperatureK, 2000, 1e-9)
  })

  it('moves less than 1 K for 1 % of light at 900 °C: T^2 lambda / c2 * 1 % (Wien)', () => {
    const base = photographed(narrow, 1173.15, 1)
    const more = photographed(narrow, 1173.15, 1, {
      glow: {
        level: exact((1.01 * bandRadiance(narrow, 1173.15)) / bandRadiance(narrow, 1073.6)),
        exposure,
      },
    })
    expectPrinted(more.temperatureK - base.temperatureK, '0.62')
  })

  it('scales exposures: t ISO / N^2 (exposure relation of photography)', () => {
    expectClose(
      exposureFactor({ exposureSeconds: 0.02, iso: 200, fNumber: 3.6 }),
      exposureFactor(exposure),
      1e-12,
    )
    expect(exposureRatioUncertainty(exposure, exposure)).toBe(0)
    expect(exposureRatioUncertainty(exposure, { ...exposure, iso: 200 })).toBe(0.05)
    const shorter = { ...exposure, exposureSeconds: exposure.exposureSeconds / 8 }
    const level = bandRadiance(red, 1300) / bandRadiance(red, 1073.6) / 8
    const scaled = photographed(red, 1300, 1, { glow: { level: exact(level), exposure: shorter } })
    expectClose(scaled.temperatureK, 1300, 1e-9)
    expect(scaled.contributions[0]!.code).toBe('exposure')
  })

  it('propagates every input, and the emissivity of one surface twice only where it is not the same', () => {
    const reference = {
      level: { value: 1, standardUncertainty: 0.01 },
      exposure,
      temperature: { value: 1073.6, standardUncertainty: 6 },
    }
    const scale = grey(0.8, 0.1)
    const level = bandRadiance(red, 1173) / bandRadiance(red, 1073.6)
    const base = {
      band: red,
      bandShiftNm: 5,
      glow: { level: { value: level, standardUncertainty: level * 0.01 }, exposure },
      surface: scale,
    }
    const same = brightnessTemperatureFromLevel({
      ...base,
      reference: { ...reference, surface: scale },
    })!
    const other = brightnessTemperatureFromLevel({
      ...base,
      reference: { ...reference, surface: grey(0.8, 0.1) },
    })!
    expectClose(same.temperatureK, other.temperatureK, 1e-12)
    expect(same.contributions[0]!.code).toBe('reference temperature')
    // 6 K at 1073.6 K is (1173 / 1073.6)^2 * 6 at 1173 K (Wien).
    expectClose(same.contributions[0]!.standardUncertainty, 6 * (1173 / 1073.6) ** 2, 0.01)
    expect(other.standardUncertaintyK).toBeGreaterThan(same.standardUncertaintyK)
    const emissivity = other.contributions.find((c) => c.code === 'emissivity')!
    // T^2 lambda / c2 * 10 %, lambda near 630 nm at this glow.
    expectClose(emissivity.standardUncertainty, ((1173 ** 2 * 630e-9) / 0.0143878) * 0.1, 0.03)
  })

  it('gives none where there is no light', () => {
    expect(photographed(red, 1173, 1, { glow: { level: exact(0), exposure } })).toBeUndefined()
  })

  it('inverts its own radiance, rises, and is finite', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 700, max: 3500, noNaN: true }),
        fc.double({ min: 0.05, max: 1, noNaN: true }),
        (t, e) => {
          const emissivity = greyEmissivity(e)
          const radiance = bandRadiance(red, t, emissivity)
          expectClose(temperatureFromBand(red, radiance, emissivity), t, 1e-10)
          expect(bandRadiance(red, t + 1, emissivity)).toBeGreaterThan(radiance)
        },
      ),
    )
    expectClose(bandRadiance(narrow, 1500), planckRadiance(650e-9, 1500), 1e-12)
    expect(temperatureFromBand(red, 0)).toBe(0)
  })
})

describe('hotter than before', () => {
  it('finds 10 K at 900 °C to 2 K with 1 % of light and a base known to 60 K only', () => {
    const ratio = bandRadiance(red, 1183.15) / bandRadiance(red, 1173.15)
    const step = hotterThanBefore(
      red,
      { value: 1173.15, standardUncertainty: 60 },
      { value: ratio, standardUncertainty: ratio * 0.01 },
    )
    expectClose(step.value, 10, 1e-6)
    expect(step.standardUncertainty).toBeLessThan(2)
  })
})

describe('blur', () => {
  it('keeps erf of the width: 0.7610 as wide as the blur, 0.9815 twice as wide (analytic)', () => {
    // erf(sqrt(ln 2)) and erf(2 sqrt(ln 2))
    expectPrinted(levelUnderBlur(5, 5), '0.7610')
    expectPrinted(levelUnderBlur(10, 5), '0.9815')
    expect([levelUnderBlur(0, 5), levelUnderBlur(5, 0)]).toEqual([0, 1])
  })

  it('has the error function of Abramowitz & Stegun table 7.1', () => {
    expectPrinted(erf(0.5), '0.520500')
    expectPrinted(erf(1), '0.842701')
    expectPrinted(erfc(2), '0.004678')
    expectPrinted(erf(-1), '-0.842701')
  })
})
