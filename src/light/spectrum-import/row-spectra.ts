import { type Delimiter, splitAll } from './layout.ts'
import { axisNumber, type DecimalMark, isNoValue, parseNumber } from './number.ts'
import { axisToNm, isPossibleNm, unitFromMagnitude } from './unit.ts'

/** Fewer wavelengths side by side are columns of something else. */
const LEAST_WAVELENGTHS = 16
/** Names and notes may stand before the first wavelength. */
const MOST_LABELS = 40
/** The wavelengths stand this far down at most. */
const LOOK_AT = 60

const WAYS: readonly (readonly [Delimiter, DecimalMark])[] = [
  ['tab', '.'],
  ['tab', ','],
  ['semicolon', ','],
  ['semicolon', '.'],
  ['comma', '.'],
  ['blanks', '.'],
]

/**
 * Spectra as rows: one line of rising or falling wavelengths, below it a line for each spectrum with
 * its name in front. Returned as the same text with columns, which the reader of columns takes from
 * there; null where the text is not written so.
 */
export function columnsFromRows(lines: readonly string[]): string[] | null {
  for (let at = 0; at < Math.min(lines.length, LOOK_AT); at++) {
    for (const [delimiter, mark] of WAYS) {
      const cells = splitAll(lines[at]!, delimiter)
      const first = cells.findIndex((cell) => !Number.isNaN(axisNumber(cell, mark).value))
      if (first < 0 || first > MOST_LABELS || cells.length - first < LEAST_WAVELENGTHS) continue
      const axis = wavelengthsFrom(cells, first, mark)
      if (axis === null) continue
      const rows: { name: string; values: number[] }[] = []
      for (const line of lines.slice(at + 1)) {
        if (line.trim() === '') continue
        const own = splitAll(line, delimiter)
        const values = own.slice(first, first + axis.length).map((cell) => parseNumber(cell, mark))
        const filled = values.filter((value) => !Number.isNaN(value)).length
        if (filled < 0.8 * axis.length) continue
        const name = own
          .slice(0, first)
          .map((cell) => cell.replace(/"/g, '').trim())
          .filter((cell) => cell !== '' && !isNoValue(cell))
        rows.push({ name: name.slice(0, 3).join(' ') || `Row ${rows.length + 1}`, values })
      }
      if (rows.length === 0) continue
      const heading = ['Wavelength', ...rows.map(({ name }) => name.replace(/\t/g, ' '))]
      return [
        heading.join('\t'),
        ...axis.map((nm, k) =>
          [nm, ...rows.map(({ values }) => (Number.isNaN(values[k]!) ? '' : values[k]!))].join(
            '\t',
          ),
        ),
      ]
    }
  }
  return null
}

function wavelengthsFrom(
  cells: readonly string[],
  first: number,
  mark: DecimalMark,
): number[] | null {
  const axis: number[] = []
  for (const cell of cells.slice(first)) {
    const { value } = axisNumber(cell, mark)
    if (Number.isNaN(value)) break
    axis.push(value)
  }
  if (axis.length < LEAST_WAVELENGTHS || cells.length - first - axis.length > 3) return null
  const rises = axis.every((value, i) => i === 0 || value > axis[i - 1]!)
  const falls = axis.every((value, i) => i === 0 || value < axis[i - 1]!)
  const unit = unitFromMagnitude(axis[axis.length >> 1]!)
  if (!(rises || falls) || unit === null) return null
  return axis.every((value) => isPossibleNm(axisToNm(value, unit))) ? axis : null
}
