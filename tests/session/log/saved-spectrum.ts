import { responseFromLamp } from '../../../src/estimate/spectrum/response.ts'
import { surfaceFromMaterial } from '../../../src/estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../../src/estimate/spectrum/temperature.ts'
import { USUAL_INSTRUMENT } from '../../../src/estimate/spectrum/types.ts'
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'
import type { Reading } from '../../../src/log/schema/types.ts'
import { spectrumRecord } from '../../../src/session/spectrum/spectrum-record.ts'
import { PRACTICE_LAMP, practiceSpectra } from '../../../src/sources/practice/practice-spectra.ts'

const recordingOf = (text: string) => {
  const read = importSpectra(text)
  if (!read.ok) throw new Error(read.code)
  return { spectrum: read.spectra[0]!, dark: read.spectra[1] ?? null }
}

/** A record of a spectrum as the log gives it back from the disk. */
export const asStored = (record: object, part: Partial<Reading> = {}): Reading =>
  JSON.parse(
    JSON.stringify({
      version: 2,
      id: '0b6f6c1e-7f0a-4c5e-9d55-2f1f3a0c9a11',
      savedAt: '2026-03-14T10:00:00.000Z',
      demo: false,
      tags: [],
      series: null,
      supply: null,
      place: '',
      roomTemperatureK: null,
      swatch: null,
      picture: null,
      parts: [],
      history: [],
      recomputations: [],
      ...record,
      ...part,
    }),
  )

/** A saved reading of the practice spectra, as it comes back from the disk. */
export function savedSpectrum(part: Partial<Reading> = {}): Reading {
  const { lamp, glow } = practiceSpectra()
  const made = responseFromLamp(recordingOf(lamp.text), PRACTICE_LAMP, USUAL_INSTRUMENT)
  if (!made.ok) throw new Error(made.code)
  const input = {
    recording: recordingOf(glow.text),
    response: made.response,
    surface: surfaceFromMaterial('steel-oxidised')!,
    window: null,
    range: null,
    ratioNm: [550, 650] as const,
  }
  const result = temperatureFromSpectrum(input)
  if (!result.ok) throw new Error(result.code)
  const record = spectrumRecord({
    input,
    result,
    responseId: 'a response',
    materialId: 'steel-oxidised',
    cover: 'none',
    tableName: null,
    fileName: 'glow.csv',
    simulated: true,
    truthK: null,
    object: 'kiln',
    notes: '',
    now: new Date('2026-03-14T10:00:00Z'),
  })
  return asStored(record, part)
}
