import { axisNumber, type DecimalMark, isNoValue, parseNumber } from './number.ts'

export type Delimiter = 'tab' | 'semicolon' | 'comma' | 'blanks'

/** How the columns of a text are written. */
export interface Layout {
  readonly delimiter: Delimiter
  readonly decimalMark: DecimalMark
  /** Fields on a line, the wavelength included. */
  readonly columns: number
}

/**
 * In order of preference: a mark that nothing else uses says more than one that numbers use too.
 * Comma with decimal comma is told apart only where the fields are quoted.
 */
const CANDIDATES: readonly (readonly [Delimiter, DecimalMark])[] = [
  ['tab', '.'],
  ['tab', ','],
  ['semicolon', '.'],
  ['semicolon', ','],
  ['comma', '.'],
  ['comma', ','],
  ['blanks', '.'],
  ['blanks', ','],
]

/** Lines looked at, spread over the text: enough to outvote headers, few enough to cost nothing. */
const SAMPLE_LINES = 96
/** A line is cut after this many fields, to bound the work on hostile text. */
const MAX_FIELDS = 1000
/** A row length counts when at least this share of the rows has it: columns may end early. */
const MIN_SHARE_OF_LONGEST = 0.1

/** The fields of a line as written, empty ones included. Quotes keep a comma inside its field. */
export function splitFields(line: string, delimiter: Delimiter): string[] {
  if (delimiter === 'blanks') return line.trim().split(/\s+/, MAX_FIELDS)
  if (delimiter === 'comma' && line.includes('"')) return splitQuoted(line)
  return line.split(delimiter === 'tab' ? '\t' : delimiter === 'comma' ? ',' : ';', MAX_FIELDS)
}

function splitQuoted(line: string): string[] {
  const fields: string[] = []
  let field = ''
  let quoted = false
  for (const letter of line) {
    if (letter === '"') quoted = !quoted
    if (letter !== ',' || quoted) field += letter
    else {
      fields.push(field)
      field = ''
      if (fields.length === MAX_FIELDS) return fields
    }
  }
  return [...fields, field]
}

/** All fields of a line, however many: for spectra written as rows. */
export function splitAll(line: string, delimiter: Delimiter): string[] {
  if (delimiter === 'blanks') return line.trim().split(/\s+/)
  return line.split(delimiter === 'tab' ? '\t' : delimiter === 'comma' ? ',' : ';')
}

/** Fields without the empty ones that delimiters at the end of a line leave. */
export function withoutEmptyEnd(fields: readonly string[]): readonly string[] {
  let end = fields.length
  while (end > 0 && fields[end - 1]!.trim() === '') end -= 1
  return end === fields.length ? fields : fields.slice(0, end)
}

/** Could this line be data? It begins with a digit, a sign, a decimal mark or a quote. */
export function startsLikeData(line: string): boolean {
  return /^\s{0,40}["+\-−.,]{0,3}\d/.test(line)
}

/**
 * The numbers of a data line: the first field must be a number, with its unit or without; of the others
 * those that are empty or say that they hold none are NaN. Null when the line is no data line.
 */
export function numbersInCells(fields: readonly string[], mark: DecimalMark): number[] | null {
  if (fields.length < 2) return null
  const first = axisNumber(fields[0]!, mark).value
  if (Number.isNaN(first)) return null
  const numbers = [first]
  for (let i = 1; i < fields.length; i++) {
    const value = parseNumber(fields[i]!, mark)
    if (Number.isNaN(value) && !isNoValue(fields[i]!)) return null
    numbers.push(value)
  }
  return numbers
}

/**
 * The layout under which most sampled lines read as rows of numbers.
 *
 * @param given what the person has fixed in the preview; it narrows the candidates
 * @returns null when no line reads as two numbers or more under any layout
 */
export function detectLayout(
  lines: readonly string[],
  given: { readonly delimiter?: Delimiter; readonly decimalMark?: DecimalMark } = {},
): Layout | null {
  const sample = sampleOf(lines.filter(startsLikeData))
  let best: Layout | null = null
  let bestRows = 0
  for (const [delimiter, decimalMark] of CANDIDATES) {
    if (given.delimiter !== undefined && given.delimiter !== delimiter) continue
    if (given.decimalMark !== undefined && given.decimalMark !== decimalMark) continue
    const lengths: number[] = []
    for (const line of sample) {
      const numbers = numbersInCells(withoutEmptyEnd(splitFields(line, delimiter)), decimalMark)
      if (numbers) lengths.push(numbers.length)
    }
    if (lengths.length > bestRows) {
      bestRows = lengths.length
      best = { delimiter, decimalMark, columns: longestCommon(lengths) }
      if (bestRows === sample.length) break
    }
  }
  return best
}

/** The greatest length that is no rarity. */
function longestCommon(lengths: readonly number[]): number {
  const enough = MIN_SHARE_OF_LONGEST * lengths.length
  const sorted = lengths.toSorted((a, b) => b - a)
  return sorted.find((length) => lengths.filter((other) => other === length).length >= enough) ?? 2
}

function sampleOf(lines: readonly string[]): string[] {
  if (lines.length <= SAMPLE_LINES) return [...lines]
  const step = lines.length / SAMPLE_LINES
  return Array.from({ length: SAMPLE_LINES }, (_, i) => lines[Math.floor(i * step)]!)
}
