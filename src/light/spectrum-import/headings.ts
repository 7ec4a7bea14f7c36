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

/**
 * The cells of the heading that stands next above a row and has a cell for every column. Where names and
 * units stand in two lines, both: "Irradiance (W/m2)".
 */
export function headingCells(
  lines: readonly string[],
  layout: Layout,
  beforeLine: number,
): readonly string[] | null {
  const above = headingLines(lines, layout, beforeLine)
  const [nearest, next] = above
  if (!nearest) return null
  const under = bare(nearest.cells)
  if (!next || next.line !== nearest.line - 1 || !areUnits(under)) return under
  return bare(next.cells).map((name, i) => {
    const unit = under[i]!
    return unit === ''
      ? name
      : name === ''
        ? unit
        : `${name} (${unit.replace(/^[([]|[)\]]$/g, '')})`
  })
}

const bare = (cells: readonly string[]) => cells.map((cell) => cell.trim().replace(/"/g, ''))

/** Units are short, in brackets or with a slash, and no sentence. */
const areUnits = (cells: readonly string[]) =>
  cells.every((cell) => cell.length <= 16 && !/\s\S+\s/.test(cell)) &&
  cells.some((cell) =>
    /^[[(]|\/|^(?:nm|[uµμ]m|å|counts?|a\.?u\.?|%|cm\^?-1|W.*|[uµμm]?mol.*)$/i.test(cell),
  )

/** How comments begin in front of headings. */
const COMMENT = /^\s*(?:[#%!*]+|\/\/)\s*/

/** Heading lines above a row that have a cell for every column, the nearest first; two at most. */
function headingLines(
  lines: readonly string[],
  layout: Layout,
  beforeLine: number,
): { readonly line: number; readonly cells: readonly string[] }[] {
  const found: { line: number; cells: readonly string[] }[] = []
  for (let line = beforeLine - 1; line >= Math.max(1, beforeLine - LOOK_BACK); line--) {
    const text = lines[line - 1]!.replace(COMMENT, '')
    const cells = withoutEmptyEnd(splitFields(text, layout.delimiter))
    // A heading may begin like data, as "1/CM" does.
    const numbers = startsLikeData(text) ? numbersInCells(cells, layout.decimalMark) : null
    if (numbers !== null) {
      // The data of the block above: from there on headings belong to that block.
      if (numbers.length === layout.columns) return found
      continue
    }
    if (cells.length === layout.columns) found.push({ line, cells })
    if (found.length === 2) return found
  }
  return found
}
