/** How long a spectrum of 2048 samples takes from text to temperature. */
import { responseFromLamp } from '../../src/estimate/spectrum/response.ts'
import { surfaceFromMaterial } from '../../src/estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../src/estimate/spectrum/temperature.ts'
import { USUAL_INSTRUMENT } from '../../src/estimate/spectrum/types.ts'
import { importSpectra } from '../../src/light/spectrum-import/import-spectra.ts'
import type { Spectrum } from '../../src/light/spectrum-import/spectrum.ts'
import {
  INSTRUMENTS,
  planck,
  SimulatedDay,
  seededRandom,
  USUAL_CONDITIONS,
  writtenAsText,
} from './spectrum-simulation.ts'

export interface SpectrumTiming {
  readonly samples: number
  /** Text of glow and dark to temperature, milliseconds: the first run (cold code) and the median. */
  readonly firstMs: number
  readonly medianMs: number
  /** Response from a lamp's spectrum, median. */
  readonly responseMs: number
}

export function timeSpectrum(rounds = 40): SpectrumTiming {
  const day = new SimulatedDay(INSTRUMENTS[0]!, USUAL_CONDITIONS, seededRandom(7))
  const lampRecording = day.record(planck(2700))
  const glow = day.record(planck(1400))
  const text = writtenAsText(glow.spectrum)
  const darkText = writtenAsText(glow.dark!)
  const lamp = {
    emitter: 'black body',
    colourTemperatureK: 2700,
    standardUncertaintyK: 20,
  } as const
  const surface = surfaceFromMaterial('steel-oxidised')!

  const read = (written: string): Spectrum => {
    const result = importSpectra(written)
    if (!result.ok) throw new Error(`refused: ${result.code}`)
    return result.spectra[0]!
  }
  const respond = () => {
    const result = responseFromLamp(lampRecording, lamp, USUAL_INSTRUMENT)
    if (!result.ok) throw new Error(`no response: ${result.code}`)
    return result.response
  }
  const response = respond()
  const run = () => {
    const result = temperatureFromSpectrum({
      recording: { spectrum: read(text), dark: read(darkText) },
      response,
      surface,
      window: null,
      range: null,
      ratioNm: [550, 650],
    })
    if (!result.ok) throw new Error(`no temperature: ${result.code}`)
  }
  const firstMs = milliseconds(run)
  return {
    samples: glow.spectrum.signal.length,
    firstMs,
    medianMs: median(Array.from({ length: rounds }, () => milliseconds(run))),
    responseMs: median(Array.from({ length: rounds }, () => milliseconds(respond))),
  }
}

function milliseconds(work: () => unknown): number {
  const start = performance.now()
  work()
  return performance.now() - start
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!
}
