/** What becomes of two versions of one reading. */
import { canonicalText, type Json } from '../schema/json-value.ts'
import type { KitItem } from '../schema/kit-schema.ts'
import { EDITABLE_NAMES, type Reading } from '../schema/reading-schema.ts'

export type Relation =
  | 'same'
  /** The same measured reading, edited or recomputed in one place or both. */
  | 'conflicting'
  /** Another measured reading under the same id: they must not be mixed. */
  | 'foreign'

export function relationOf(mine: Reading, theirs: Reading): Relation {
  if (textOf(whole(mine)) === textOf(whole(theirs))) return 'same'
  return textOf(measured(mine)) === textOf(measured(theirs)) ? 'conflicting' : 'foreign'
}

/**
 * Their values with ours in the history, and the results of both. For conflicting readings.
 *
 * @param at ISO time of the merge
 */
export function mergedReading(mine: Reading, theirs: Reading, at: string): Reading {
  const names = editableNames(mine).filter((name) => textOf(mine[name]) !== textOf(theirs[name]))
  const replaced = Object.fromEntries(names.map((name) => [name, mine[name]]))
  const history = union([...mine.history, ...theirs.history])
  if (names.length > 0) history.push({ at, values: replaced })
  return {
    ...theirs,
    picture: theirs.picture ?? mine.picture,
    history,
    recomputations: union([...mine.recomputations, ...theirs.recomputations]),
  }
}

/** Items have no history: they are the same or they are not. */
export const sameItem = (mine: unknown, theirs: KitItem): boolean => textOf(mine) === textOf(theirs)

/** A result entered by hand may be corrected; any other is measured. */
const editableNames = (of: Reading) =>
  of.method === 'by hand' ? ([...EDITABLE_NAMES, 'result'] as const) : EDITABLE_NAMES

/** Whether a picture came along says nothing about the reading. */
function whole(of: Reading): unknown {
  return { ...of, picture: null }
}

function measured(of: Reading): unknown {
  const changeable = new Set<string>([...editableNames(of), 'picture', 'history', 'recomputations'])
  return Object.fromEntries(Object.entries(of).filter(([name]) => !changeable.has(name)))
}

function union<T extends { at: string }>(items: readonly T[]): T[] {
  const byText = new Map(items.map((item) => [textOf(item), item]))
  return [...byText.values()].sort((a, b) => Date.parse(a.at) - Date.parse(b.at))
}

const textOf = (value: unknown) => canonicalText(value as Json)
