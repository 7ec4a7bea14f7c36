/**
 * The log as a table: RFC 4180 (comma, CRLF, quotes doubled), UTF-8, '.' as decimal mark whatever
 * the phone's language, times in ISO 8601, the unit in each header.
 *
 * It begins with a byte order mark: spreadsheet programs on desktops take a file without one for
 * their old national code page and spoil "°C" and accents; RFC 3629 allows it and readers of CSV
 * know to skip it.
 */
import { currentResult, type Reading, type Result } from '../schema/reading-schema.ts'

type Cell = string | number | null

const ZERO_CELSIUS_K = 273.15

interface Column {
  readonly header: string
  readonly cell: (reading: Reading, result: Result, found: Found | null) => Cell
  /** Decimals kept of a number. */
  readonly decimals?: number
}

type Found = Extract<Result, { kind: 'temperature' }>
const celsius = (kelvin: number | null) => (kelvin === null ? null : kelvin - ZERO_CELSIUS_K)

const COLUMNS: readonly Column[] = [
  { header: 'id', cell: (r) => r.id },
  { header: 'taken at (ISO 8601)', cell: (r) => r.takenAt.iso },
  { header: 'time zone', cell: (r) => r.takenAt.zone },
  { header: 'method', cell: (r) => r.method },
  { header: 'simulated', cell: (r) => (r.simulated ? 'yes' : 'no') },
  { header: 'made-up example', cell: (r) => (r.demo ? 'yes' : 'no') },
  { header: 'object', cell: (r) => r.object },
  { header: 'material', cell: (r) => r.material },
  { header: 'temperature (°C)', cell: (_r, _result, t) => celsius(t?.temperatureK ?? null) },
  { header: 'temperature (K)', cell: (_r, _result, t) => t?.temperatureK ?? null },
  {
    header: 'standard uncertainty (K)',
    cell: (_r, _result, t) => t?.standardUncertaintyK ?? null,
  },
  {
    header: 'expanded uncertainty 95 % (K)',
    cell: (_r, _result, t) => t?.expandedUncertaintyK ?? null,
  },
  { header: 'interval 95 % from (K)', cell: (_r, _result, t) => t?.interval95K[0] ?? null },
  { header: 'interval 95 % to (K)', cell: (_r, _result, t) => t?.interval95K[1] ?? null },
  {
    header: 'upper bound 95 % (K)',
    cell: (_r, result) => (result.kind === 'upper bound' ? result.temperatureK : null),
  },
  {
    header: 'no number because',
    cell: (_r, result) => (result.kind === 'none' ? result.reason : null),
  },
  { header: 'method version', cell: (_r, result) => result.methodVersion },
  { header: 'recomputations', cell: (r) => r.recomputations.length, decimals: 0 },
  { header: 'edits', cell: (r) => r.history.length, decimals: 0 },
  { header: 'tags', cell: (r) => r.tags.join(', ') },
  { header: 'series', cell: (r) => r.series },
  { header: 'notes', cell: (r) => r.notes },
  { header: 'place', cell: (r) => r.place },
  { header: 'room temperature (°C)', cell: (r) => celsius(r.roomTemperatureK) },
  { header: 'in front', cell: (r) => r.cover },
  { header: 'supply (V)', cell: (r) => r.supply?.volts ?? null, decimals: 6 },
  { header: 'supply (A)', cell: (r) => r.supply?.amperes ?? null, decimals: 6 },
  { header: 'supply (W)', cell: (r) => r.supply?.watts ?? null, decimals: 6 },
  { header: 'CIE 1931 x', cell: (r) => r.chromaticity?.x ?? null, decimals: 5 },
  { header: 'CIE 1931 y', cell: (r) => r.chromaticity?.y ?? null, decimals: 5 },
  { header: "CIE 1976 u'", cell: (r) => r.chromaticity?.u ?? null, decimals: 5 },
  { header: "CIE 1976 v'", cell: (r) => r.chromaticity?.v ?? null, decimals: 5 },
  { header: 'correlated colour temperature (K)', cell: (r) => r.chromaticity?.cctK ?? null },
  { header: 'Duv', cell: (r) => r.chromaticity?.duv ?? null, decimals: 5 },
]

export const CSV_HEADERS = COLUMNS.map((column) => column.header)

export async function* csvChunks(
  batches: AsyncIterable<readonly Reading[]>,
): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder()
  yield encoder.encode(`\uFEFF${CSV_HEADERS.map(textCell).join(',')}\r\n`)
  for await (const readings of batches) {
    yield encoder.encode(readings.map(csvRow).join(''))
  }
}

/** One record with its line end. */
export function csvRow(reading: Reading): string {
  const result = currentResult(reading)
  const found = result.kind === 'temperature' ? result : null
  let row = ''
  for (const { cell, decimals = 2 } of COLUMNS) {
    const value = cell(reading, result, found)
    if (row !== '') row += ','
    if (typeof value === 'number') row += numberCell(value, decimals)
    else if (value !== null) row += textCell(value)
  }
  return `${row}\r\n`
}

/** Rounded, without exponent down to the sixth decimal: one is taken for text by some programs. */
function numberCell(value: number, decimals: number): string {
  const scale = 10 ** decimals
  const rounded = Math.round(value * scale) / scale
  return Math.abs(rounded) < 1e21 ? String(rounded === 0 ? 0 : rounded) : value.toFixed(0)
}

/** Most texts need no escaping. */
const HARMLESS = /^[\p{L}\p{N}](?:[\p{L}\p{N} .:()°_+/-]*[\p{L}\p{N}.)])?$/u
/** What a spreadsheet takes for the beginning of a formula, in wide forms too. */
const FORMULA = /^(\s*)([=+\-@＝＋－＠])/
/**
 * The same after a semicolon, tab or line break: a program that splits at those (as in languages
 * with a decimal comma) sees a new cell there, quoted or not.
 */
const FORMULA_WITHIN = /([;\t\r\n]\s*)([=+\-@＝＋－＠])/g

/** A text that stays a text: formulas are defused by an apostrophe, quotes are doubled. */
export function textCell(text: string): string {
  if (text === '' || HARMLESS.test(text)) return text
  const harmless = text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: NUL ends a cell in some readers.
    .replace(/\u0000/g, ' ')
    .replace(FORMULA, "'$1$2")
    .replace(FORMULA_WITHIN, "$1'$2")
  return /[",;\t\r\n]|^\s|\s$/.test(harmless) ? `"${harmless.replace(/"/g, '""')}"` : harmless
}
