/**
 * Text from a spectrometer -> spectra, with everything that was understood on the way, so that a
 * person can check it before anything is kept.
 */
import { axisHeading } from './axis-heading.ts'
import { splitBlocks } from './blocks.ts'
import { headingCells, sortLines } from './headings.ts'
import { integrationStyle } from './integration-style.ts'
import { detectLayout, startsLikeData } from './layout.ts'
import { fromOpenFormat } from './open-formats.ts'
import { commaTwice, countsUp, hasIndexColumn } from './plausibility.ts'
import { refuse } from './refuse.ts'
import type { BadLines, ImportChoices, ImportFinding, ImportResult, TextFormat } from './result.ts'
import { columnsFromRows } from './row-spectra.ts'
import { type BadLine, excerpt, type Row, readRows } from './rows.ts'
import { isFlat, MAX_SPECTRA, MIN_ROWS, type Spectrum } from './spectrum.ts'
import { directionOf, tidyColumn } from './tidy.ts'
import {
  type AxisHeading,
  axisToNm,
  isPossibleNm,
  unitFromMagnitude,
  type WavelengthUnit,
} from './unit.ts'

const MAX_CHARACTERS = 16e6
const MAX_COLUMNS = 256
const SHOWN_LINES = 20
/** NULs that fill a header up. */
const PADDING = /\0+/g
/** Control characters other than tab, line feed, vertical tab, form feed and carriage return. */
const CONTROL = /[^\P{Cc}\t\n\v\f\r]/u
/** More bad lines than this share of all data lines: the text was not understood. */
const MAX_BAD_SHARE = 0.5

/** More rows outside 150 to 2600 nm than this share: the axis is something else. */
const MAX_OUTSIDE_SHARE = 0.05

/**
 * Reads spectra from text: wavelength first, then one signal or more, in columns or as rows; comma,
 * semicolon, tab or blanks; decimal point or comma; headings; any order; or in the open formats
 * JCAMP-DX and IES TM-27.
 *
 * @param text the decoded file; a byte-order mark is taken off, and NULs that pad a header
 * @returns spectra with a preview, or a refusal with the line that shows why. Never throws; but for
 *   sorting, the work grows linearly with the length of the text.
 */
export function importSpectra(text: string, choices: ImportChoices = {}): ImportResult {
  if (text.length > MAX_CHARACTERS) return refuse('too large')
  const clean = text.replace(/^\uFEFF/, '').replace(PADDING, '')
  const lines = clean.split(/\r\n|\n|\r/)
  if (CONTROL.test(clean)) {
    return refuse('not text', lines.findIndex((line) => CONTROL.test(line)) + 1, '')
  }
  const open = fromOpenFormat(clean, lines)
  if (open !== null) return withIntegration(open, lines)
  const turned = choices.delimiter === undefined ? columnsFromRows(lines) : null
  const read =
    turned === null
      ? fromColumns(lines, choices, 'columns')
      : fromColumns(turned, { ...choices, decimalMark: '.' }, 'rows')
  return withIntegration(read, lines)
}

function withIntegration(read: ImportResult, lines: readonly string[]): ImportResult {
  const integration = integrationStyle(lines)
  if (!read.ok || integration === null) return read
  return { ...read, spectra: read.spectra.map((spectrum) => ({ ...spectrum, integration })) }
}

function fromColumns(
  lines: readonly string[],
  choices: ImportChoices,
  format: TextFormat,
): ImportResult {
  const at = (line: number): [number, string] => [line, lines[line - 1] ?? '']
  const firstText = lines.findIndex((line) => line.trim() !== '')
  if (firstText < 0) return refuse('empty')

  const layout = detectLayout(lines, choices)
  if (layout === null) {
    const line = lines.findIndex(startsLikeData)
    if (line < 0) return refuse('no numbers', ...at(firstText + 1))
    const alone = /^["\d.,eE+−-]+$/.test(lines[line]!.trim())
    return refuse(alone ? 'one column only' : 'no numbers', ...at(line + 1))
  }
  if (layout.columns > MAX_COLUMNS) return refuse('too large')

  const read = readRows(lines, layout)
  const firstRow = read.rows[0]
  if (firstRow === undefined) return refuse('no numbers', ...at(firstText + 1))
  const twice = commaTwice(read.rows, layout, lines)
  if (twice) return refuse('comma twice', ...at(twice.line))

  const shift = hasIndexColumn(read.rows) ? 1 : 0
  const rows = shift === 1 ? read.rows.map(withoutFirst) : read.rows
  if (countsUp(rows)) return refuse('pixel numbers', ...at(firstRow.line))
  const names = headingCells(lines, layout, firstRow.line)
  const named = axisHeading(names?.[shift], lines, firstRow.line, layout)
  if (named === 'raman shift' && choices.unit === undefined) {
    return refuse('raman shift', ...at(firstRow.line))
  }
  const bySize = unitFromMagnitude(medianWavelength(rows))
  // Nanometres and micrometres are told apart by size whatever a heading says; the others are not.
  const byHeading = named === 'raman shift' || named === 'nm' || named === 'um' ? null : named
  const unit = choices.unit ?? byHeading ?? bySize
  if (unit === null) return refuse('wavelength unit unknown', ...at(firstRow.line))

  const inRange: Row[] = []
  const lost: BadLine[] = []
  const lose = (reason: BadLine['reason']) => (row: Row) =>
    lost.push({ line: row.line, reason, text: excerpt(at(row.line)[1]) })
  for (const row of rows) {
    if (isPossibleNm(axisToNm(row.numbers[0]!, unit))) inRange.push(row)
    else lose('wavelength out of range')(row)
  }
  // A few lines may be counts or notes; more, and the axis is no wavelength.
  if (lost.length > MAX_OUTSIDE_SHARE * rows.length) {
    const code = choices.unit || byHeading ? 'wavelengths out of range' : 'wavelength unit unknown'
    return refuse(code, ...at(lost[0]!.line), listed(lost))
  }
  const { blocks, far } = splitBlocks(inRange)
  far.forEach(lose('far from the rest'))

  const { headings, stray } = sortLines(inOrder(read.words, read.unreadable), blocks)
  const badLines = listed(inOrder(stray, lost))
  const kept = inRange.length - far.length
  // Words do not count here: a text may explain itself at length.
  const unread = read.unreadable.length + lost.length
  if (unread > MAX_BAD_SHARE * (kept + unread)) {
    const first = inOrder(read.unreadable, lost)[0]!
    return refuse('mostly unreadable', ...at(first.line), listed(inOrder(read.unreadable, lost)))
  }
  if (!blocks.some((block) => block.length >= MIN_ROWS)) {
    return refuse('too few rows', ...at((inRange[inRange.length - 1] ?? firstRow).line), badLines)
  }
  const columns = layout.columns - 1 - shift
  if (columns * blocks.length > MAX_SPECTRA) return refuse('too large')

  const { spectra, findings } = collect(blocks, columns, unit, (line) =>
    headingCells(lines, layout, line)?.slice(shift),
  )
  if (spectra.length === 0) return refuse('no signal', ...at(firstRow.line), badLines)
  const direction = directionOf(blocks[0]!)
  return {
    ok: true,
    spectra,
    findings: [...generalFindings(shift, direction, unit, named, countEmpty(inRange)), ...findings],
    preview: {
      format,
      delimiter: layout.delimiter,
      decimalMark: layout.decimalMark,
      unit,
      direction,
      rows: kept,
      blocks: blocks.length,
      signalColumns: columns,
      headings: {
        count: headings.length,
        first: headings
          .slice(0, SHOWN_LINES)
          .map(({ line, text: words }) => ({ line, text: words })),
      },
      badLines,
    },
  }
}

/** Columns of blocks as spectra, with what had to be done to them. */
function collect(
  blocks: readonly (readonly Row[])[],
  columns: number,
  unit: WavelengthUnit,
  headingBefore: (line: number) => readonly string[] | undefined,
): { spectra: Spectrum[]; findings: ImportFinding[] } {
  const spectra: Spectrum[] = []
  const findings: ImportFinding[] = []
  blocks.forEach((block, index) => {
    const names = headingBefore(block[0]!.line)
    for (let column = 1; column <= columns; column++) {
      const { wavelengthNm, signal, repeated, gaps } = tidyColumn(block, column, (axis) =>
        axisToNm(axis, unit),
      )
      if (wavelengthNm.length < MIN_ROWS || isFlat(signal)) {
        findings.push({ code: 'flat column left out', block: index + 1, column })
        continue
      }
      const spectrum = spectra.length
      spectra.push({ name: excerpt(names?.[column] ?? '') || null, wavelengthNm, signal })
      if (repeated > 0) findings.push({ code: 'repeated wavelengths', spectrum, count: repeated })
      if (gaps.length > 0) findings.push({ code: 'gaps', spectrum, gaps })
    }
  })
  return { spectra, findings }
}

/** Cells without a value in rows that have others; the ends of short columns do not count. */
function countEmpty(rows: readonly Row[]): number {
  let count = 0
  rows.forEach(({ numbers }, i) => {
    const next = rows[i + 1]
    for (let k = 1; k < numbers.length; k++) {
      if (Number.isNaN(numbers[k]!) && next && !Number.isNaN(next.numbers[k]!)) count++
    }
  })
  return count
}

function generalFindings(
  shift: number,
  direction: ReturnType<typeof directionOf>,
  unit: WavelengthUnit,
  named: AxisHeading | null,
  empty: number,
): ImportFinding[] {
  const findings: ImportFinding[] = []
  if (shift === 1) findings.push({ code: 'index column left out' })
  if (direction !== 'ascending') findings.push({ code: direction })
  if (unit !== 'nm' && unit !== 'um') findings.push({ code: 'axis converted', from: unit })
  if (named !== null && named !== 'raman shift' && named !== unit) {
    findings.push({ code: 'unit of heading disagrees', heading: named })
  }
  if (empty > 0) findings.push({ code: 'cells without value', count: empty })
  return findings
}

function listed(bad: readonly BadLine[]): BadLines {
  return { count: bad.length, first: bad.slice(0, SHOWN_LINES) }
}

function inOrder(a: readonly BadLine[], b: readonly BadLine[]): BadLine[] {
  return [...a, ...b].sort((x, y) => x.line - y.line)
}

function withoutFirst({ line, numbers }: Row): Row {
  return { line, numbers: numbers.slice(1) }
}

function medianWavelength(rows: readonly Row[]): number {
  return Float64Array.from(rows, (row) => row.numbers[0]!).sort()[rows.length >> 1]!
}
