import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { leftOpenByLamp } from '../../../src/estimate/spectrum/lamp.ts'
import { KNOWN_GREY, surfaceFromMaterial } from '../../../src/estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../../src/estimate/spectrum/temperature.ts'
import { glassWindow, quartzWindow } from '../../../src/estimate/spectrum/windows.ts'
import { INSTRUMENTS, planck, type Radiance } from '../../accuracy/spectrum-simulation.ts'
import { expectClose } from '../../close-to.ts'
import { perfect, perfectResponse, read, usual } from './recordings.ts'

const OXIDISED = surfaceFromMaterial('steel-oxidised')!

describe('what stands in the way of the light', () => {
  it('a window is divided out when it is known', () => {
    const window = {
      wavelengthNm: [400, 600, 800],
      transmittance: [0.5, 0.9, 0.8],
      standardUncertainty: 0,
    }
    const through = (nm: number) =>
      nm < 600 ? 0.5 + (0.4 * (nm - 400)) / 200 : 0.9 - (0.1 * (nm - 600)) / 200
    const recording = perfect((nm) => planck(1400)(nm) * through(Math.min(800, Math.max(400, nm))))
    const response = perfectResponse()
    const range = { fromNm: 450, toNm: 750 }
    // ln(transmittance) is straight between points here, the window's is straight in itself.
    const fine = {
      wavelengthNm: Array.from({ length: 401 }, (_, i) => 400 + i),
      transmittance: Array.from({ length: 401 }, (_, i) => through(400 + i)),
      standardUncertainty: 0,
    }
    expectClose(read({ recording, response, range, window: fine }).temperatureK, 1400, 1e-6)
    expect(() => read({ recording, response, range, window: null })).toThrow('shape')
    expect(read({ recording, response, range, window }).temperatureK).toBeLessThan(1405)
  })

  it('glass and quartz widen the interval by what is not known of them', () => {
    const { recording, response } = usual(planck(1400))
    const bare = read({ recording, response }).standardUncertaintyK
    const quartz = read({ recording, response, window: quartzWindow() })
    const glass = read({ recording, response, window: glassWindow() })
    expect(quartz.standardUncertaintyK).toBeGreaterThan(bare)
    expect(glass.standardUncertaintyK).toBeGreaterThan(quartz.standardUncertaintyK)
    expect(
      glass.budget.find(({ term }) => term === 'window')!.standardUncertaintyK,
    ).toBeGreaterThan(3)
  })

  it('a lamp leaves open what Wien’s limit says, 1/T for 1/T', () => {
    for (const kelvin of [1100, 1400, 2000]) {
      const { recording, response } = usual(planck(kelvin))
      const { budget } = read({ recording, response })
      const term = budget.find((one) => one.term === 'lamp temperature')!.standardUncertaintyK
      // The pedestal's prior takes up a little of it.
      expectClose(leftOpenByLamp(response.lamp, kelvin), term, 0.03)
    }
  })

  it('a sodium flame is left out by itself', () => {
    const flame: Radiance = (nm) =>
      planck(1250)(nm) * (1 + 3 * Math.exp(-0.5 * ((nm - 589.3) / 0.8) ** 2))
    const clean = usual(planck(1250))
    const lit = usual(flame)
    const without = read(clean)
    const result = read(lit)
    const [line] = result.findings.flatMap((f) => (f.code === 'lines left out' ? f.stretches : []))
    expect(line!.fromNm).toBeLessThan(589.3)
    expect(line!.toNm).toBeGreaterThan(589.3)
    expect(without.findings).toEqual([])
    // The same day and noise with and without the flame.
    expect(Math.abs(result.temperatureK - without.temperatureK)).toBeLessThan(
      0.5 * without.standardUncertaintyK,
    )
  })

  it('a shape that is not quite a glow’s is named and widens the interval', () => {
    const wavy: Radiance = (nm) => planck(1400)(nm) * (1 + 0.04 * Math.sin(nm / 40))
    const result = read(usual(wavy))
    expect(result.findings).toContainEqual(expect.objectContaining({ code: 'shape misfit' }))
    const clean = read(usual(planck(1400)))
    expect(result.standardUncertaintyK).toBeGreaterThan(2 * clean.standardUncertaintyK)
    expect(Math.abs(result.temperatureK - 1400)).toBeLessThan(2 * result.standardUncertaintyK)
  })
})

describe('what a result carries', () => {
  it('is plain JSON, and its budget adds up', () => {
    const result = read({ ...usual(planck(1400)), surface: OXIDISED, ratioNm: [550, 650] })
    expect(JSON.parse(JSON.stringify(result))).toEqual(result)
    const sum = Math.hypot(...result.budget.map((entry) => entry.standardUncertaintyK))
    expectClose(sum, result.standardUncertaintyK, 1e-12)
    const sizes = result.budget.map((entry) => entry.standardUncertaintyK)
    expect(sizes).toEqual(sizes.toSorted((a, b) => b - a))
    expect(result.interval95K[0]).toBeLessThan(result.temperatureK)
    expect(result.interval95K[1]).toBeGreaterThan(result.temperatureK)
    expect(result.residuals).toHaveLength(result.corrected.wavelengthNm.length)
  })

  it('a range set by hand is used and, where it is bolder than the one found, named', () => {
    const spectrum = usual(planck(1400))
    const narrow = read({ ...spectrum, range: { fromNm: 550, toNm: 650 } })
    expect(narrow.corrected.wavelengthNm[0]).toBeGreaterThanOrEqual(550)
    expect(narrow.corrected.wavelengthNm.at(-1)).toBeLessThanOrEqual(650)
    expect(narrow.range).toMatchObject({ shortEnd: 'set by hand', longEnd: 'set by hand' })
    expect(narrow.findings).toEqual([])
    const bold = read({ ...spectrum, range: { fromNm: 345, toNm: 1015 } })
    expect(bold.findings).toContainEqual({ code: 'range wider than found' })
  })

  it('saturation and a missing dark are named', () => {
    const { recording, response } = usual(planck(1400))
    const cut = recording.spectrum.signal.map((value) => Math.min(value, 40_000))
    const result = read({
      recording: { spectrum: { ...recording.spectrum, signal: cut }, dark: null },
      response,
    })
    expect(result.findings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['saturated', 'no dark spectrum']),
    )
    expect(Math.abs(result.temperatureK - 1400)).toBeLessThan(3 * result.standardUncertaintyK)
  })

  it('refuses darkness, strangers and nonsense', () => {
    const { recording, response } = usual(planck(1400))
    const ask = (changes: object) =>
      temperatureFromSpectrum({
        recording,
        response,
        surface: KNOWN_GREY,
        window: null,
        range: null,
        ratioNm: null,
        ...changes,
      })
    const { spectrum, dark } = recording
    const dead = { ...spectrum, signal: spectrum.signal.map(() => 0) }
    expect(ask({ recording: { spectrum: dead, dark } })).toEqual({ ok: false, code: 'no signal' })
    expect(ask({ range: { fromNm: 2000, toNm: 2100 } })).toEqual({
      ok: false,
      code: 'no common wavelengths',
    })
    const window = { wavelengthNm: [500], transmittance: [0], standardUncertainty: 0 }
    expect(ask({ window })).toEqual({ ok: false, code: 'unusable window' })
    const noise = { ...spectrum, signal: spectrum.signal.map((_, i) => 1200 + ((i * 7919) % 13)) }
    const verdict = ask({ recording: { spectrum: noise, dark } })
    // Noise alone has no temperature, or one with an interval as wide as itself.
    if (verdict.ok) {
      expect(verdict.standardUncertaintyK).toBeGreaterThan(0.1 * verdict.temperatureK)
    } else {
      expect(['no fit', 'hotter than any solid', 'too cold to see', 'shape', 'bands']).toContain(
        verdict.code,
      )
    }
  })

  it('is finite and covers itself for any glow, noise and response', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 900, max: 3500, noNaN: true }),
        fc.integer({ min: 1, max: 1e6 }),
        fc.constantFrom(...INSTRUMENTS),
        (kelvin, seed, instrument) => {
          const result = read({ ...usual(planck(kelvin), seed, instrument), surface: OXIDISED })
          expect(Number.isFinite(result.temperatureK)).toBe(true)
          expect(result.standardUncertaintyK).toBeGreaterThan(0)
          expect(Math.abs(result.temperatureK - kelvin)).toBeLessThan(
            5 * result.standardUncertaintyK,
          )
        },
      ),
      { numRuns: 60, seed: 8 },
    )
  })
})
