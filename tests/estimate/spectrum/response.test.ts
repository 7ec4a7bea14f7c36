import { describe, expect, it } from 'vitest'
import { responseFromLamp } from '../../../src/estimate/spectrum/response.ts'
import {
  type Instrument,
  type InstrumentResponse,
  type Recording,
  type SpectrumLamp,
  USUAL_INSTRUMENT,
} from '../../../src/estimate/spectrum/types.ts'
import {
  INSTRUMENTS,
  PERFECT_CONDITIONS,
  planck,
  SimulatedDay,
  type SimulatedInstrument,
  seededRandom,
  USUAL_CONDITIONS,
} from '../../accuracy/spectrum-simulation.ts'

const BLACK: SpectrumLamp = {
  emitter: 'black body',
  colourTemperatureK: 2700,
  standardUncertaintyK: 20,
}
const [BROAD, COLOUR, , COARSE] = INSTRUMENTS as [
  SimulatedInstrument,
  SimulatedInstrument,
  SimulatedInstrument,
  SimulatedInstrument,
]

function lampOf(instrument: SimulatedInstrument, perfect = false, seed = 5): Recording {
  const conditions = perfect ? PERFECT_CONDITIONS : USUAL_CONDITIONS
  return new SimulatedDay(instrument, conditions, seededRandom(seed)).record(planck(2700))
}

function response(recording: Recording, instrument: Instrument = USUAL_INSTRUMENT) {
  const result = responseFromLamp(recording, BLACK, instrument)
  if (!result.ok) throw new Error(result.code)
  return result.response
}

const inside = ({ wavelengthNm, range }: InstrumentResponse) =>
  wavelengthNm.flatMap((nm, i) => (nm >= range.fromNm && nm <= range.toNm ? [i] : []))

describe('response from a lamp', () => {
  it('is the instrument, without noise', () => {
    const sharp = { ...BROAD, bandwidthNm: 1e-6 }
    const found = response(lampOf(sharp, true), { ...USUAL_INSTRUMENT, strayShare: 0 })
    const scale = found.response[1000]! / BROAD.response(found.wavelengthNm[1000]!)
    for (const i of inside(found)) {
      const expected = scale * BROAD.response(found.wavelengthNm[i]!)
      expect(Math.abs(found.response[i]! / expected - 1)).toBeLessThan(1e-6)
    }
  })

  it('stays within its own stated noise, with noise', () => {
    const found = response(lampOf({ ...BROAD, bandwidthNm: 1e-6 }))
    // Stray light and linearity are stated apart; they act slowly, so compare over a narrow stretch.
    const stretch = inside(found).filter((i) => Math.abs(found.wavelengthNm[i]! - 600) < 15)
    const quotient = stretch.map((i) => found.response[i]! / BROAD.response(found.wavelengthNm[i]!))
    const mean = quotient.reduce((a, b) => a + b, 0) / quotient.length
    const chi = quotient.map((q, k) => (q / mean - 1) / found.smoothedNoise[stretch[k]!]!)
    const rms = Math.sqrt(chi.reduce((a, b) => a + b * b, 0) / chi.length)
    expect(rms).toBeGreaterThan(0.7)
    expect(rms).toBeLessThan(1.3)
  })

  it('ends before a steep filter edge, and where stray light counts', () => {
    const { range } = response(lampOf(COLOUR))
    expect(range.longEnd).toBe('steep edge')
    // The edge falls from 90 to 10 % between 653 and 667 nm.
    expect(range.toNm).toBeGreaterThan(640)
    expect(range.toNm).toBeLessThan(662)
    // A lamp gives 1/30 of its peak at 400 nm and below, where the first filter opens.
    expect(['stray light', 'steep edge', 'noise']).toContain(range.shortEnd)
  })

  it('ends where second-order light may come in, unless a filter is stated', () => {
    const open = response(lampOf(COARSE), { ...USUAL_INSTRUMENT, secondOrderShare: 0.3 }).range
    expect(open.longEnd).toBe('second order')
    expect(open.toNm).toBeGreaterThan(2 * COARSE.fromNm - 20)
    const filtered = { ...USUAL_INSTRUMENT, secondOrderShare: 0 }
    expect(response(lampOf(COARSE), filtered).range.longEnd).toBe('end of data')
  })

  it('leaves saturated stretches out and says so', () => {
    const { spectrum, dark } = lampOf(BROAD)
    const signal = spectrum.signal.map((value) => Math.min(value, 45_000))
    const found = response({ spectrum: { ...spectrum, signal }, dark })
    const full = spectrum.wavelengthNm.filter((_, i) => signal[i] === 45_000)
    const { range } = found
    const touches = full.some((nm) => {
      const out = range.excluded.some((s) => nm >= s.fromNm && nm <= s.toNm)
      return nm >= range.fromNm && nm <= range.toNm && !out
    })
    expect(touches).toBe(false)
    expect(found.findings).toContainEqual({
      code: 'saturated',
      of: 'lamp',
      fromNm: expect.any(Number),
      toNm: expect.any(Number),
    })
  })

  it('is narrower the more stray light is stated, as far as the least signal leaves it open', () => {
    const width = (instrument: SimulatedInstrument, strayShare: number) => {
      const { range } = response(lampOf(instrument), { ...USUAL_INSTRUMENT, strayShare })
      return range.toNm - range.fromNm
    }
    const bright = { ...COARSE, fromNm: 470 }
    expect(width(bright, 0.01)).toBeLessThan(width(bright, 0.001))
    expect(width(bright, 0.03)).toBeLessThan(width(bright, 0.01))
    // This one sees next to nothing at 340 nm: a pedestal of 1 % would show there.
    expect(width(BROAD, 0.03)).toBeGreaterThan(0.9 * width(BROAD, 0.001))
  })

  it('does not reach over a hole in the data', () => {
    const { spectrum, dark } = lampOf(BROAD)
    const keep = (values: readonly number[]) =>
      values.filter((_, i) => spectrum.wavelengthNm[i]! < 560 || spectrum.wavelengthNm[i]! > 610)
    const part = {
      name: null,
      wavelengthNm: keep(spectrum.wavelengthNm),
      signal: keep(spectrum.signal),
    }
    const { range } = response({ spectrum: part, dark })
    expect(range.toNm < 560 || range.fromNm > 610).toBe(true)
  })

  it('works without a dark spectrum, less sure of the zero, and says so', () => {
    const { spectrum, dark } = lampOf(BROAD)
    const found = response({ spectrum, dark: null })
    expect(found.findings).toContainEqual({ code: 'no dark spectrum', of: 'lamp' })
    expect(found.pedestal.standardUncertainty).toBeGreaterThan(
      3 * response({ spectrum, dark }).pedestal.standardUncertainty,
    )
  })

  it('is plain JSON', () => {
    const found = response(lampOf(COLOUR))
    expect(JSON.parse(JSON.stringify(found))).toEqual(found)
    expect(Math.max(...inside(found).map((i) => found.response[i]!))).toBe(1)
  })

  it('refuses what carries no response', () => {
    const { spectrum, dark } = lampOf(BROAD)
    const lampAt = (colourTemperatureK: number) =>
      responseFromLamp({ spectrum, dark }, { ...BLACK, colourTemperatureK }, USUAL_INSTRUMENT)
    expect(lampAt(600)).toEqual({ ok: false, code: 'lamp temperature out of range' })
    expect(lampAt(Number.NaN)).toEqual({ ok: false, code: 'lamp temperature out of range' })
    const swapped = responseFromLamp({ spectrum: dark!, dark: spectrum }, BLACK, USUAL_INSTRUMENT)
    expect(swapped.ok).toBe(false)
    const noise = { ...spectrum, signal: spectrum.signal.map((_, i) => 1200 + (i % 7)) }
    expect(responseFromLamp({ spectrum: noise, dark }, BLACK, USUAL_INSTRUMENT)).toEqual({
      ok: false,
      code: 'no trusted range',
    })
  })
})
