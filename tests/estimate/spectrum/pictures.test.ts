import { describe, expect, it } from 'vitest'
import { ILLUMINANT_A } from '../../../src/colour/illuminants.ts'
import { apparentPeak } from '../../../src/estimate/spectrum/apparent-peak.ts'
import { fusedSilicaIndex, quartzWindow } from '../../../src/estimate/spectrum/windows.ts'
import { ratioTemperature } from '../../../src/physics/emissivity.ts'
import { INSTRUMENTS, planck } from '../../accuracy/spectrum-simulation.ts'
import { expectClose, expectPrinted } from '../../close-to.ts'
import { perfect, perfectResponse, read, responseOf, usual } from './recordings.ts'

const FLAT = { ...INSTRUMENTS[0]!, fromNm: 360, toNm: 830, samples: 1024, response: () => 1 }

describe('Wien’s line', () => {
  it('has the slope -c2/T, and meets the full fit where Wien’s law meets Planck’s', () => {
    // 700 nm at 1000 K: exp(-c2 / (wavelength T)) is 1.2e-9.
    const range = { fromNm: 450, toNm: 700 }
    const result = read({ recording: perfect(planck(1000)), response: perfectResponse(), range })
    expectClose(result.wien!.temperatureK!, result.temperatureK, 1e-8)
    expectClose(result.wien!.line.slope, -14387.768775 / 1000, 1e-8)
  })

  it('reads low by the part that Wien’s law drops, and no more', () => {
    const range = { fromNm: 450, toNm: 700 }
    for (const kelvin of [2000, 3000, 3500]) {
      const result = read({
        recording: perfect(planck(kelvin)),
        response: perfectResponse(),
        range,
      })
      const excess = result.wien!.temperatureK! / kelvin - 1
      const dropped = Math.exp(-14387.77 / (0.7 * kelvin))
      expect(excess).toBeLessThan(0)
      expect(-excess).toBeLessThan(dropped * (14387.77 / (0.7 * kelvin)))
    }
  })

  it('agrees with the full fit within its noise on a noisy spectrum', () => {
    const result = read(usual(planck(1300)))
    const gap = Math.abs(result.wien!.temperatureK! - result.temperatureK)
    expect(gap).toBeLessThan(4 * Math.max(result.wien!.standardUncertaintyK!, 0.5))
  })
})

describe('chromaticity of the corrected spectrum', () => {
  const flat = responseOf(perfect(planck(2800), FLAT))

  it('of illuminant A is the printed one', () => {
    // CIE 15:2004, table T.3.
    const a = (nm: number) => nm ** -5 / Math.expm1(1.435e7 / (2848 * nm))
    const { chromaticity } = read({ recording: perfect(a, FLAT), response: flat })
    if (chromaticity.kind !== 'chromaticity') throw new Error(chromaticity.kind)
    expectPrinted(chromaticity.xy.x, ILLUMINANT_A.x.toFixed(4))
    expectPrinted(chromaticity.xy.y, ILLUMINANT_A.y.toFixed(4))
  })

  it('has the temperature of the fit for a black body, on the locus', () => {
    for (const kelvin of [1200, 2000, 3000]) {
      const { chromaticity } = read({ recording: perfect(planck(kelvin), FLAT), response: flat })
      if (chromaticity.kind !== 'chromaticity') throw new Error(chromaticity.kind)
      expect(Math.abs(chromaticity.cctK! - kelvin)).toBeLessThan(0.1)
      expect(Math.abs(chromaticity.duv!)).toBeLessThan(1e-6)
      // Below 415 nm glass absorbs: what the fit fills in there is blue, and little of it.
      expect(Math.max(...chromaticity.missing)).toBeLessThan(0.03)
    }
  })

  it('is told only where enough of the eye’s range was measured', () => {
    const recording = perfect(planck(1200), FLAT)
    const at = (fromNm: number, toNm: number) =>
      read({ recording, response: flat, range: { fromNm, toNm } }).chromaticity
    expect(at(400, 760).kind).toBe('chromaticity')
    const short = at(500, 620)
    expect(short.kind).toBe('range too short')
    // Most of the luminance of a dull glow lies between 550 and 680 nm; a fifth beyond 620 nm.
    expect(short.missing[1]).toBeGreaterThan(0.2)
  })

  it('differs from the fit’s where the light departs from a glow, within what that may', () => {
    const greenish = (nm: number) =>
      planck(1500)(nm) * (1 + 0.02 * Math.exp(-0.5 * ((nm - 550) / 40) ** 2))
    const { chromaticity } = read({ recording: perfect(greenish, FLAT), response: flat })
    if (chromaticity.kind !== 'chromaticity') throw new Error(chromaticity.kind)
    const apartK = Math.abs(chromaticity.cctK! - chromaticity.fittedCctK!)
    expect(apartK).toBeGreaterThan(0.5)
    expect(apartK).toBeLessThan(2 * chromaticity.standardUncertaintyK!)
    expect(chromaticity.duv!).toBeGreaterThan(1e-4)
  })
})

describe('ratio temperature', () => {
  it('at two wavelengths is the closed form’s', () => {
    const recording = perfect(planck(1500))
    const result = read({ recording, response: perfectResponse(), ratioNm: [650, 550] })
    const ratio = Math.log(planck(1500)(550) / planck(1500)(650))
    expect(result.ratio).toMatchObject({ shortNm: 550, longNm: 650 })
    expectClose(result.ratio!.ratioTemperatureK, ratioTemperature(ratio, 550, 650), 1e-9)
    expectClose(result.ratio!.ratioTemperatureK, 1500, 1e-9)
  })

  it('is not given outside the trusted range or for one wavelength', () => {
    const spectrum = { recording: perfect(planck(1500)), response: perfectResponse() }
    expect(read({ ...spectrum, ratioNm: [300, 650] }).ratio).toBeNull()
    expect(read({ ...spectrum, ratioNm: [600, 605] }).ratio).toBeNull()
  })
})

describe('the apparent peak', () => {
  it('is the instrument’s, not the glow’s', () => {
    // Wien's displacement law: 1400 K peaks at 2070 nm, where no silicon sees.
    const { apparentPeak: peak, temperatureK } = read(usual(planck(1400)))
    expect(peak!.wavelengthNm).toBeGreaterThan(650)
    expect(peak!.wavelengthNm).toBeLessThan(900)
    expectClose(peak!.temperatureK, 2.897771955e6 / peak!.wavelengthNm, 1e-12)
    expect(peak!.temperatureK / temperatureK).toBeGreaterThan(2)
  })

  it('is right where it may be: a flat response and the sun’s temperature', () => {
    const nm = Array.from({ length: 500 }, (_, i) => 400 + i)
    const peak = apparentPeak(nm, nm.map(planck(5772)))
    // b / 5772 K = 502.0 nm.
    expect(Math.abs(peak!.wavelengthNm - 502)).toBeLessThanOrEqual(2)
    expect(
      apparentPeak(
        nm,
        nm.map(() => 0),
      ),
    ).toBeNull()
  })
})

describe('quartz', () => {
  it('has the refractive index that is printed for it', () => {
    // Malitson 1965, table 1, from memory.
    expectPrinted(fusedSilicaIndex(546.074), '1.46008')
    expectPrinted(fusedSilicaIndex(587.5618), '1.45846')
    expectPrinted(fusedSilicaIndex(656.2725), '1.45637')
  })

  it('passes 93 % at every wavelength: no colour', () => {
    // Common practice: two faces of about 3.5 % each.
    const { transmittance } = quartzWindow()
    for (const value of transmittance) expectPrinted(value, '0.93')
  })
})
