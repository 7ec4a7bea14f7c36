import { describe, expect, it } from 'vitest'
import { KNOWN_GREY, surfaceFromMaterial } from '../../../src/estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../../src/estimate/spectrum/temperature.ts'
import {
  SECOND_RADIATION_CONSTANT,
  SECOND_RADIATION_CONSTANT_ITS90,
} from '../../../src/physics/constants.ts'
import {
  tungstenSpectralEmissivity,
  tungstenTrueFromColour,
} from '../../../src/physics/tungsten.ts'
import { INSTRUMENTS, planck, type Radiance } from '../../accuracy/spectrum-simulation.ts'
import { expectClose, expectPrinted } from '../../close-to.ts'
import { CERTAIN_LAMP, perfect, perfectResponse, read, responseOf, usual } from './recordings.ts'

const OXIDISED = surfaceFromMaterial('steel-oxidised')!
const TUNGSTEN = surfaceFromMaterial('tungsten-bare')!

/**
 * CIE standard illuminant A, relative spectrum, 380 to 780 nm by 10 nm.
 * Source: CIE 15:2004, table T.1; six digits from memory (770 nm in the two decimals of the shorter
 * print). The first test below holds it against the formula.
 */
const ILLUMINANT_A_PRINTED = (
  '9.79510 12.0853 14.7080 17.6753 20.9950 24.6709 28.7027 33.0859 37.8121 42.8693 48.2423 53.9132 ' +
  '59.8611 66.0635 72.4959 79.1326 85.9470 92.9120 100.000 107.184 114.436 121.731 129.043 136.346 ' +
  '143.618 150.836 157.979 165.028 171.963 178.769 185.429 191.931 198.261 204.409 210.365 216.120 ' +
  '221.667 227.000 232.115 237.01 241.675'
).split(' ')

describe('temperature from a spectrum without noise', () => {
  it.each(INSTRUMENTS.map((instrument) => [instrument.name, instrument] as const))(
    'is exact through: %s',
    (_, instrument) => {
      const response = perfectResponse(instrument)
      for (const kelvin of [1000, 1100, 1357.77, 2000, 2800, 3300]) {
        const result = read({ recording: perfect(planck(kelvin), instrument), response })
        // The smoothing leaves a noise-free response alone but for rounding of the simulation.
        expectClose(result.temperatureK, kelvin, 1e-9, `${instrument.name}`)
        expectClose(result.withKnownSlope.temperatureK, kelvin, 1e-9)
      }
    },
  )

  it('is exact with tungsten and with a known slope', () => {
    const response = perfectResponse()
    const filament: Radiance = (nm) => planck(2400)(nm) * tungstenSpectralEmissivity(nm, 2400)
    const bare = { ...TUNGSTEN, standardUncertainty: 0 }
    expectClose(
      read({ recording: perfect(filament), response, surface: bare }).temperatureK,
      2400,
      1e-9,
    )
    const sloped: Radiance = (nm) => planck(1500)(nm) * Math.exp((0.08 * (600 - nm)) / 100)
    const known = { spectral: 'grey', lnGreenOverRed: 0.08, standardUncertainty: 0 } as const
    expectClose(
      read({ recording: perfect(sloped), response, surface: known }).temperatureK,
      1500,
      1e-9,
    )
  })

  it('is exact on a grid that is not the lamp’s', () => {
    // Response straight between its samples: then interpolation is exact too.
    const flat = { ...INSTRUMENTS[0]!, response: () => 1 }
    const other = { ...flat, samples: 300, fromNm: 410.7, toNm: 700.3 }
    const response = responseOf(perfect(planck(CERTAIN_LAMP.colourTemperatureK), flat))
    const result = read({ recording: perfect(planck(1234), other), response })
    expectClose(result.temperatureK, 1234, 1e-9)
  })

  it('leaves a free slope where it belongs: the prior only helps', () => {
    const response = perfectResponse()
    const result = read({ recording: perfect(planck(1300)), response, surface: OXIDISED })
    expectClose(result.temperatureK, 1300, 1e-6)
    expect(Math.abs(result.lnGreenOverRed)).toBeLessThan(1e-6)
  })
})

describe('CIE illuminant A', () => {
  it('is printed as its formula says', () => {
    // CIE 15:2004, 3.1: Planck with 1.435e7 nm K and 2848 K, 100 at 560 nm.
    const formula = (nm: number) =>
      (100 * (560 / nm) ** 5 * Math.expm1(1.435e7 / (2848 * 560))) /
      Math.expm1(1.435e7 / (2848 * nm))
    ILLUMINANT_A_PRINTED.forEach((printed, i) => {
      expectPrinted(formula(380 + 10 * i), printed, `${380 + 10 * i} nm`)
    })
  })

  it('has the temperature of its definition, 2856 K', () => {
    // An instrument without a response of its own: the lamp's signal is the lamp's theory.
    const wavelengthNm = ILLUMINANT_A_PRINTED.map((_, i) => 380 + 10 * i)
    const column = (signal: number[]) => ({ name: null, wavelengthNm, signal })
    const dark = column(wavelengthNm.map(() => 0))
    const lamp = column(wavelengthNm.map(planck(CERTAIN_LAMP.colourTemperatureK)))
    const { temperatureK } = read({
      recording: { spectrum: column(ILLUMINANT_A_PRINTED.map(Number)), dark },
      response: responseOf({ spectrum: lamp, dark }),
    })
    // c2 times 1/T is what a spectrum fixes. In the definition's own c2 that is 2848 K; in c2 =
    // 1.4388e-2 m K it is the 2856 K of CIE 15 (2855.54 K; with today's c2 2855.50 K).
    expectPrinted((temperatureK * 1.435e-2) / SECOND_RADIATION_CONSTANT, '2848')
    expectPrinted(
      (temperatureK * SECOND_RADIATION_CONSTANT_ITS90) / SECOND_RADIATION_CONSTANT,
      '2856',
    )
  })
})

describe('tungsten', () => {
  const filament = (kelvin: number) =>
    perfect((nm) => planck(kelvin)(nm) * tungstenSpectralEmissivity(nm, kelvin))

  it('at 2000 K true shows 2033 K as colour temperature', () => {
    // Forsythe & Worthing 1925, from memory; matched at 467 and 665 nm.
    const response = perfectResponse()
    const asGrey = read({
      recording: filament(2000),
      response,
      range: { fromNm: 460, toNm: 672 },
      ratioNm: [467, 665],
    })
    expectPrinted(asGrey.ratio!.ratioTemperatureK, '2033')
    // The fit weighs the wavelengths between by what their shape leaves open.
    expect(Math.abs(asGrey.temperatureK - 2033)).toBeLessThan(asGrey.standardUncertaintyK)
    const asTungsten = read({ recording: filament(2000), response, surface: TUNGSTEN })
    expectPrinted(asTungsten.temperatureK, '2000')
  })

  it('as a lamp stands for a black body of its colour temperature, nearly', () => {
    const recording = filament(tungstenTrueFromColour(2700))
    const lamp = { colourTemperatureK: 2700, standardUncertaintyK: 0 }
    const glow = perfect(planck(1500))
    const range = { fromNm: 450, toNm: 700 }
    const asTungsten = responseOf(recording, { ...lamp, emitter: 'tungsten' })
    expectClose(read({ recording: glow, response: asTungsten, range }).temperatureK, 1500, 1e-9)
    const asBlack = responseOf(recording, { ...lamp, emitter: 'black body' })
    const error = read({ recording: glow, response: asBlack, range }).temperatureK - 1500
    // What is left is the curvature of ln(emissivity) against 1/wavelength: real, and a few kelvin.
    expect(Math.abs(error)).toBeGreaterThan(0.3)
    expect(Math.abs(error)).toBeLessThan(10)
  })
})

describe('the emissivity slope', () => {
  it('with its prior costs what pyrometry says', () => {
    // dT = T^2 dln(ratio) / (c2 (1/550 nm - 1/650 nm)) for a pair of wavelengths; a fit over more
    // wavelengths weighs them otherwise, so only the size is compared.
    const result = read({ ...usual(planck(1173)), surface: OXIDISED })
    const pair = (1173 ** 2 * 0.03) / (SECOND_RADIATION_CONSTANT * (1e9 / 550 - 1e9 / 650))
    const surface = result.budget.find(({ term }) => term === 'surface')!.standardUncertaintyK
    expect(surface / pair).toBeGreaterThan(0.5)
    expect(surface / pair).toBeLessThan(1.5)
  })

  it('keeps its prior: thousands of samples do not buy a slope', () => {
    // A slope of three standard uncertainties, in light without any noise.
    const steep: Radiance = (nm) => planck(1500)(nm) * Math.exp((0.09 * (600 - nm)) / 100)
    const { temperatureK, standardUncertaintyK } = read({
      recording: perfect(steep),
      response: perfectResponse(),
      surface: OXIDISED,
    })
    expect(standardUncertaintyK).toBeGreaterThan(8)
    expect(Math.abs(temperatureK - 1500)).toBeLessThan(3 * standardUncertaintyK)
  })

  it('that nobody stated is refused or held by the uncertainty', () => {
    for (const slope of [-0.5, -0.3, -0.2, -0.1, 0.1, 0.2, 0.3, 0.5]) {
      const sloped: Radiance = (nm) => planck(1500)(nm) * Math.exp((slope * (600 - nm)) / 100)
      const result = temperatureFromSpectrum({
        ...usual(sloped),
        surface: { ...KNOWN_GREY, standardUncertainty: 0.03 },
        window: null,
        range: null,
        ratioNm: null,
      })
      // Stated is 0 +- 0.03: 0.2 lies 6.7 of its standard uncertainties off.
      if (result.ok) {
        const apart = Math.abs(result.temperatureK - 1500) / result.standardUncertaintyK
        expect(apart, `slope ${slope}`).toBeLessThan(6)
      } else {
        expect(Math.abs(slope)).toBeGreaterThan(0.15)
        expect(['shape', 'off the locus', 'halves disagree', 'slope']).toContain(result.code)
      }
    }
  })
})
