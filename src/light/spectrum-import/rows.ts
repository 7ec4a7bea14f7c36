import {
  type Layout,
  numbersInCells,
  splitFields,
  startsLikeData,
  withoutEmptyEnd,
} from './layout.ts'

/** A line of numbers: wavelength first, in the text's own unit. */
export interface Row {
  /** Counted from 1. */
  readonly line: number
  /** As many as the layout has columns; a cell that was left empty is NaN. */
  readonly numbers: readonly number[]
}

export type BadLineReason =
  /** Words, or figures that do not parse. */
  | 'no numbers'
  | 'too few columns'
  | 'too many columns'
  | 'wavelength out of range'
  /** A row or two far from everything else, such as a count above the data. */
  | 'far from the rest'

export interface BadLine {
  readonly line: number
  readonly reason: BadLineReason
  /** The beginning of the line. */
  readonly text: string
}

/** A heading: text above the data, or between two blocks of it. */
export interface TextLine {
  readonly line: number
  readonly text: string
}

export interface ReadRows {
  readonly rows: readonly Row[]
  /** Lines of words. */
  readonly words: readonly BadLine[]
  /** Lines that begin like data and are none. */
  readonly unreadable: readonly BadLine[]
}

const EXCERPT_LENGTH = 80

export function excerpt(text: string): string {
  return text.length > EXCERPT_LENGTH ? `${text.slice(0, EXCERPT_LENGTH)}…` : text
}

/** Sorts the lines of a text into rows, words and bad lines; blank lines are nothing. */
export function readRows(lines: readonly string[], layout: Layout): ReadRows {
  const rows: Row[] = []
  const words: BadLine[] = []
  const unreadable: BadLine[] = []
  for (let i = 0; i < lines.length; i++) {
    const text = lines[i]!
    if (text.trim() === '') continue
    const line = i + 1
    const note = (list: BadLine[], reason: BadLineReason) =>
      list.push({ line, reason, text: excerpt(text) })
    if (!startsLikeData(text)) {
      note(words, 'no numbers')
      continue
    }
    const written = splitFields(text, layout.delimiter)
    const fields = withoutEmptyEnd(written)
    const numbers = numbersInCells(fields, layout.decimalMark)
    if (numbers === null) {
      note(unreadable, fields.length < 2 ? 'too few columns' : 'no numbers')
    } else if (numbers.length > layout.columns) {
      note(unreadable, 'too many columns')
    } else if (written.length < layout.columns) {
      note(unreadable, 'too few columns')
    } else {
      while (numbers.length < layout.columns) numbers.push(Number.NaN)
      rows.push({ line, numbers })
    }
  }
  return { rows, words, unreadable }
}
