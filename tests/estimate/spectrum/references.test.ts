import { describe, expect, it } from 'vitest'
import { responseFromReference } from '../../../src/estimate/spectrum/reference-response.ts'
import { responseFromLamp } from '../../../src/estimate/spectrum/response.ts'
import { KNOWN_GREY, surfaceFromMaterial } from '../../../src/estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../../src/estimate/spectrum/temperature.ts'
import {
  type Recording,
  type SpectrumLamp,
  type SpectrumSurface,
  USUAL_INSTRUMENT,
} from '../../../src/estimate/spectrum/types.ts'
import {
  INSTRUMENTS,
  planck,
  type Radiance,
  SimulatedDay,
  type SimulatedInstrument,
  seededRandom,
  USUAL_CONDITIONS,
} from '../../accuracy/spectrum-simulation.ts'
import { expectClose } from '../../close-to.ts'
import { perfect, read, responseOf, usual } from './recordings.ts'

/** A usual silicon instrument for the visible and near infrared. */
const NEAR_INFRARED: SimulatedInstrument = {
  name: 'visible and near infrared',
  fromNm: 340,
  toNm: 1025,
  samples: 2048,
  bandwidthNm: 1.5,
  secondOrder: 0,
  response: (nm) => Math.exp(-0.5 * ((nm - 620) / 190) ** 2),
}
const black = (kelvin: number, standardUncertaintyK: number): SpectrumLamp => ({
  emitter: 'black body',
  colourTemperatureK: kelvin,
  standardUncertaintyK,
})
const responseBy = (recording: Recording, lamp: SpectrumLamp) => {
  const made = responseFromReference(recording, lamp, USUAL_INSTRUMENT)
  if (!made.ok) throw new Error(made.code)
  return made.response
}

describe('one reference at 999 °C, 500 to 950 °C', () => {
  const STAGE_K = Array.from({ length: 11 }, (_, i) => 773.15 + 45 * i)

  /** What one day records, the same for every surface that is said of it. */
  const recordDay = (shapeError: number, seed: number) => {
    const day = new SimulatedDay(
      { ...NEAR_INFRARED, samples: 1024 },
      { ...USUAL_CONDITIONS, shapeError },
      seededRandom(seed),
    )
    const response = responseBy(day.record(planck(1272.15)), black(1272.15, 3))
    return { response, glows: STAGE_K.map((kelvin) => day.record(planck(kelvin))) }
  }
  const recorded = new Map<string, ReturnType<typeof recordDay>>()

  function stage(surface: SpectrumSurface, shapeError: number, seed: number) {
    const key = `${shapeError} ${seed}`
    const { response, glows } = recorded.get(key) ?? recordDay(shapeError, seed)
    recorded.set(key, { response, glows })
    return STAGE_K.map((kelvin, i) => {
      const result = read({ recording: glows[i]!, response, surface })
      const [low, high] = result.interval95K
      return { error: result.temperatureK - kelvin, holds: low <= kelvin && kelvin <= high }
    })
  }
  const DAYS = [11, 12, 13]

  it.each([
    ['cavity', surfaceFromMaterial('cavity')!],
    ['grey', KNOWN_GREY],
    ['grey ± 0.03', { ...KNOWN_GREY, standardUncertainty: 0.03 }],
    ['grey ± 0.06', { ...KNOWN_GREY, standardUncertainty: 0.06 }],
  ] as const)('intervals hold for: %s', (_, surface) => {
    // The eleven share their reference and miss together: days are pooled.
    const found = [0.005, 0.01, 0.02].flatMap((shapeError) =>
      DAYS.flatMap((seed) => stage(surface, shapeError, seed)),
    )
    const held = found.filter(({ holds }) => holds).length / found.length
    expect(held).toBeGreaterThanOrEqual(10 / 11)
  })

  it('a known surface is read within 6 K at the usual shape error', () => {
    for (const surface of [surfaceFromMaterial('cavity')!, KNOWN_GREY]) {
      const found = DAYS.flatMap((seed) => stage(surface, 0.01, seed))
      const mean = found.reduce((sum, { error }) => sum + error ** 2, 0) / found.length
      expect(Math.sqrt(mean)).toBeLessThan(6)
    }
  })
})

describe('references that people own', () => {
  it('a hot surface counts with its own emissivity: the same piece tells itself', () => {
    const surface = { spectral: 'grey', lnGreenOverRed: 0.08, standardUncertainty: 0 } as const
    const sloped =
      (kelvin: number): Radiance =>
      (nm) =>
        planck(kelvin)(nm) * Math.exp((0.08 * (600 - nm)) / 100)
    const response = responseOf(perfect(sloped(1300)), {
      emitter: 'surface',
      surface,
      temperatureK: 1300,
      standardUncertaintyK: 0,
    })
    expectClose(read({ recording: perfect(planck(1100)), response }).temperatureK, 1100, 1e-9)
  })

  it('what is not known of its surface is in the ±', () => {
    const day = new SimulatedDay(NEAR_INFRARED, USUAL_CONDITIONS, seededRandom(4))
    const reference = day.record(planck(1300))
    const recording = day.record(planck(1150))
    const asked = (standardUncertainty: number) =>
      read({
        recording,
        response: responseBy(reference, {
          emitter: 'surface',
          surface: { ...KNOWN_GREY, standardUncertainty },
          temperatureK: 1300,
          standardUncertaintyK: 4,
        }),
      })
    const term = asked(0.03).budget.find((one) => one.term === 'reference surface')!
    // 0.03 per 100 nm at 600 nm: dT = T^2 0.03e-2 lambda^2 / c2 per nm, 10 K, of which the
    // curvature of a slope over a wide range gives some back.
    expect(term.standardUncertaintyK).toBeGreaterThan(3)
    expect(term.standardUncertaintyK).toBeLessThan(12)
    expect(asked(0).budget.some((one) => one.term === 'reference surface')).toBe(false)
  })

  it('several narrow the ±, and their disagreement widens it and is named', () => {
    const day = new SimulatedDay(NEAR_INFRARED, USUAL_CONDITIONS, seededRandom(6))
    const lamp = day.record(planck(2700))
    const salt = day.record(planck(1073.6))
    const recording = day.record(planck(1200))
    const all = (saidK: number) => ({
      recording,
      response: responseBy(lamp, black(2700, 25)),
      others: [responseBy(salt, black(saidK, 6))],
    })
    const honest = read(all(1073.6))
    const single = read({ recording, response: all(0 + 1073.6).response })
    expect(honest.byReference).toHaveLength(2)
    expect(honest.standardUncertaintyK).toBeLessThan(single.standardUncertaintyK)
    expect(Math.abs(honest.temperatureK - 1200)).toBeLessThan(2 * honest.standardUncertaintyK)
    expect(honest.findings.map(({ code }) => code)).not.toContain('references disagree')
    const squares = honest.budget.reduce((sum, one) => sum + one.standardUncertaintyK ** 2, 0)
    expectClose(Math.sqrt(squares), honest.standardUncertaintyK, 1e-9)

    // The salt was colder than said by ten of its standard uncertainties.
    const wrong = read(all(1133.6))
    expect(wrong.findings.map(({ code }) => code)).toContain('references disagree')
    expect(wrong.standardUncertaintyK).toBeGreaterThan(2 * honest.standardUncertaintyK)
    expect(wrong.interval95K[0]).toBeLessThan(1200)
  })

  it('a calibrated file needs none, in power and in photons', () => {
    const wavelengthNm = Array.from({ length: 401 }, (_, i) => 400 + i)
    for (const quantity of ['power', 'photons'] as const) {
      const signal = wavelengthNm.map((nm) => planck(1500)(nm) * (quantity === 'photons' ? nm : 1))
      const recording = { spectrum: { name: null, wavelengthNm, signal }, dark: null }
      const response = responseBy(recording, { emitter: 'calibration', quantity })
      const result = read({ recording, response })
      // What stray light may leave is taken off before: a tenth of a percent of the peak.
      expect(Math.abs(result.temperatureK - 1500)).toBeLessThan(0.5 * result.standardUncertaintyK)
      expect(result.findings).toEqual([])
    }
  })
})

describe('reference and glow by two instruments', () => {
  it('another axis is named and widens the ±; a part of the same axis is the same', () => {
    const { recording, response } = usual(planck(1400))
    const same = read({ recording, response })
    const part = (keep: (i: number) => boolean): Recording => {
      const cut = (of: readonly number[]) => of.filter((_, i) => keep(i))
      const of = (one: Recording['spectrum']) => ({
        name: null,
        wavelengthNm: cut(one.wavelengthNm),
        signal: cut(one.signal),
      })
      return { spectrum: of(recording.spectrum), dark: of(recording.dark!) }
    }
    for (const keep of [(i: number) => i > 300 && i < 1900, (i: number) => i % 2 === 0]) {
      expect(read({ recording: part(keep), response }).findings).toEqual([])
    }
    const shifted = new SimulatedDay(
      { ...INSTRUMENTS[0]!, samples: 1500, fromNm: 345.3 },
      USUAL_CONDITIONS,
      seededRandom(21),
    )
    const other = read({ recording: shifted.record(planck(1400)), response })
    expect(other.findings).toContainEqual({
      code: 'another instrument',
      signs: ['wavelengths', 'number of samples'],
    })
    expect(other.standardUncertaintyK).toBeGreaterThan(4 * same.standardUncertaintyK)
    expect(other.budget[0]!.term).toBe('another instrument')
  })

  it('a spectrum scaled to 1 beside counts is named', () => {
    const { recording, response } = usual(planck(1400))
    const scale = (of: Recording['spectrum']) => ({
      ...of,
      signal: of.signal.map((value) => value / 60_000),
    })
    const result = read({
      recording: { spectrum: scale(recording.spectrum), dark: scale(recording.dark!) },
      response,
    })
    expect(result.findings).toContainEqual({
      code: 'another instrument',
      signs: ['size of signal'],
    })
  })
})

it('a reference of another instrument that does not fit is left out and told', () => {
  const { recording, response } = usual(planck(1400))
  const other = new SimulatedDay(
    { ...INSTRUMENTS[0]!, samples: 1500, response: (nm) => 1 + 0.9 * Math.sin(nm / 20) },
    USUAL_CONDITIONS,
    seededRandom(8),
  )
  const stranger = responseBy(other.record(planck(2700)), black(2700, 20))
  const found = read({ recording, response, others: [stranger] })
  expect(found.byReference.map(({ reference }) => reference)).toEqual([0])
  expect(found.findings).toContainEqual({ code: 'references left out', count: 1 })
})

it('an integration time written in another way is named; where one says nothing it is not', () => {
  const { recording } = usual(planck(1400))
  const said = (integration: string | undefined): Recording => ({
    ...recording,
    spectrum: { ...recording.spectrum, ...(integration === undefined ? {} : { integration }) },
  })
  const signsOf = (reference: string | undefined, glow: string | undefined) => {
    const response = responseOf(said(reference), black(1400, 5))
    return read({ recording: said(glow), response }).findings.flatMap((one) =>
      one.code === 'another instrument' ? one.signs : [],
    )
  }
  expect(signsOf('integration time (sec): #', 'integration=# ms')).toEqual(['integration time'])
  expect(signsOf('integration=# ms', 'integration=# ms')).toEqual([])
  expect(signsOf('integration=# ms', undefined)).toEqual([])
})

it('a reference outside its range is refused', () => {
  const { recording } = usual(planck(1400))
  for (const lamp of [black(600, 5), black(5000, 5), black(1300, Number.NaN)]) {
    expect(responseFromLamp(recording, lamp, USUAL_INSTRUMENT)).toEqual({
      ok: false,
      code: 'lamp temperature out of range',
    })
  }
})

describe('light of two temperatures', () => {
  const codeOf = (light: Radiance) => {
    const result = temperatureFromSpectrum({
      ...usual(light),
      surface: KNOWN_GREY,
      window: null,
      range: null,
      ratioNm: null,
    })
    return result.ok ? 'a figure' : result.code
  }

  it('of two bodies in one field of view gets no figure', () => {
    expect(codeOf((nm) => planck(1100)(nm) + 0.002 * planck(1900)(nm))).toBe('shape')
  })

  it('one for each half of the spectrum gets no figure', () => {
    // The same at 600 nm, so that there is no step to be seen.
    const scale = planck(1300)(600) / planck(1600)(600)
    const code = codeOf((nm) => (nm < 600 ? planck(1300)(nm) : scale * planck(1600)(nm)))
    expect(['shape', 'halves disagree', 'off the locus']).toContain(code)
  })
})
