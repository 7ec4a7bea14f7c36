import { isJcamp, readJcamp } from './jcamp.ts'
import { refuse } from './refuse.ts'
import type { ImportResult, TextFormat } from './result.ts'
import { isFlat, MAX_SPECTRA, MIN_ROWS, type Spectrum } from './spectrum.ts'
import { isTm27, readTm27 } from './tm27.ts'
import { isPossibleNm, unitFromHeading, type WavelengthUnit } from './unit.ts'

/** Open formats say themselves how they are to be read; null for any other text. */
export function fromOpenFormat(text: string, lines: readonly string[]): ImportResult | null {
  if (isJcamp(text)) return fromJcamp(text, lines)
  return isTm27(text) ? fromTm27(text) : null
}

function fromJcamp(text: string, lines: readonly string[]): ImportResult {
  const read = readJcamp(text)
  if (!read.ok) return refuse(read.code, read.line, lines[read.line - 1] ?? '')
  return complete(read.spectra, 'JCAMP-DX', unitFromHeading(read.unit) as WavelengthUnit)
}

function fromTm27(text: string): ImportResult {
  const spectrum = readTm27(text)
  return spectrum ? complete([spectrum], 'IES TM-27', 'nm') : refuse('no numbers')
}

/** Spectra of an open format, which says itself how it is to be read. */
function complete(
  found: readonly Spectrum[],
  format: TextFormat,
  unit: WavelengthUnit,
): ImportResult {
  const spectra = found.filter(
    ({ signal, wavelengthNm: nm }) =>
      signal.length >= MIN_ROWS && nm.every(isPossibleNm) && !isFlat(signal),
  )
  if (spectra.length === 0) return refuse('too few rows')
  if (spectra.length > MAX_SPECTRA) return refuse('too large')
  return {
    ok: true,
    spectra,
    findings: unit === 'nm' || unit === 'um' ? [] : [{ code: 'axis converted', from: unit }],
    preview: {
      format,
      delimiter: 'blanks',
      decimalMark: '.',
      unit,
      direction: 'ascending',
      rows: spectra.reduce((sum, { signal }) => sum + signal.length, 0),
      blocks: spectra.length,
      signalColumns: 1,
      headings: { count: 0, first: [] },
      badLines: { count: 0, first: [] },
    },
  }
}
