import type { Layout } from './layout.ts'
import type { Row } from './rows.ts'

/** Rows of which this share repeats the wavelength before are suspicious. */
const REPEATED_SHARE = 0.3

/**
 * Comma between columns and inside numbers ("500,1,0,25") reads as whole numbers in pairs whose
 * first repeats itself from row to row.
 *
 * @returns the first row that repeats, or null where all is well
 */
export function commaTwice(
  rows: readonly Row[],
  layout: Layout,
  lines: readonly string[],
): Row | null {
  if (layout.delimiter !== 'comma' || layout.columns < 4 || layout.columns % 2 !== 0) return null
  const repeats = rows.filter((row, i) => i > 0 && row.numbers[0] === rows[i - 1]!.numbers[0])
  if (repeats.length < REPEATED_SHARE * rows.length) return null
  return rows.some((row) => lines[row.line - 1]!.includes('.')) ? null : (repeats[0] ?? null)
}

/** The first column counts 0, 1, 2... or 1, 2, 3... */
export function countsUp(rows: readonly Row[]): boolean {
  const start = rows[0]?.numbers[0]
  if (start !== 0 && start !== 1) return false
  return rows.every((row, i) => row.numbers[0] === start + i)
}

/** A running number in front of wavelength and signal. */
export function hasIndexColumn(rows: readonly Row[]): boolean {
  return (rows[0]?.numbers.length ?? 0) >= 3 && countsUp(rows) && isOrdered(rows, 1)
}

function isOrdered(rows: readonly Row[], column: number): boolean {
  let up = true
  let down = true
  for (let i = 1; i < rows.length; i++) {
    const step = rows[i]!.numbers[column]! - rows[i - 1]!.numbers[column]!
    if (!(step > 0)) up = false
    if (!(step < 0)) down = false
  }
  return up || down
}
