import {
  type Layout,
  numbersInCells,
  splitFields,
  startsLikeData,
  withoutEmptyEnd,
} from './layout.ts'
import type { BadLine, Row } from './rows.ts'

export interface SortedLines {
  /** Above the data or between two blocks of it. */
  readonly headings: readonly BadLine[]
  /** Among the data or below it. */
  readonly stray: readonly BadLine[]
}

/** Tells the lines that explain the data from those that spoil it, by where they stand. */
export function sortLines(
  others: readonly BadLine[],
  blocks: readonly (readonly Row[])[],
): SortedLines {
  const spans = blocks.map((rows) => [rows[0]!.line, rows[rows.length - 1]!.line] as const)
  const end = spans[spans.length - 1]?.[1] ?? 0
  const headings: BadLine[] = []
  const stray: BadLine[] = []
  let block = 0
  for (const other of others) {
    while (block < spans.length && spans[block]![1] < other.line) block += 1
    const inside = block < spans.length && other.line > spans[block]![0]
    if (inside || other.line > end) stray.push(other)
    else headings.push(other)
  }
  return { headings, stray }
}

/** A heading stands at most this many lines above its data. */
const LOOK_BACK = 60

/** The cells of the heading that stands next above a row and has a cell for every column. */
export function headingCells(
  lines: readonly string[],
  layout: Layout,
  beforeLine: number,
): readonly string[] | null {
  for (let line = beforeLine - 1; line >= Math.max(1, beforeLine - LOOK_BACK); line--) {
    const text = lines[line - 1]!
    const cells = withoutEmptyEnd(splitFields(text, layout.delimiter))
    if (startsLikeData(text)) {
      // The data of the block above: from there on headings belong to that block.
      if (numbersInCells(cells, layout.decimalMark)?.length === layout.columns) return null
      continue
    }
    if (cells.length === layout.columns) return cells.map((cell) => cell.trim().replace(/"/g, ''))
  }
  return null
}
