/**
 * A mark outside of the database says how far the log had come. A browser that drops a damaged or
 * unused database opens an empty one without a word, and one that loses its last writes opens an older
 * one: both stand behind the mark. (When the mark is cleared too, nothing is noticed: hence the
 * journal, and backups.)
 */
import * as v from 'valibot'
import type { TurnRow } from '../journal/journal.ts'
import { instant } from '../schema/fields.ts'
import { wholeWithin } from '../schema/quantities.ts'
import type { Missing, Restored } from '../schema/storage-status.ts'

const count = wholeWithin(0, Number.MAX_SAFE_INTEGER)
export const presenceShape = v.object({
  readings: count,
  at: instant,
  /** Of the last write; absent in marks of former versions. */
  epoch: v.optional(v.string()),
  turn: v.optional(count),
  missing: v.nullable(v.object({ readings: count, lastSeen: instant })),
  restored: v.optional(v.nullable(v.object({ readings: count, at: instant })), null),
})
type Mark = v.InferOutput<typeof presenceShape>

/** Where the mark lies: localStorage, or anything alike in tests. */
export type MarkStorage = Pick<Storage, 'getItem' | 'setItem'>

export interface Presence {
  /** How many readings there are now. */
  note(readings: number): void
  written(turn: TurnRow): void
  /** The journal had turns that the database lacked when it was opened; they are in it now. */
  caughtUp(now: Pick<OpenedState, 'listed' | 'turn'>): void
  missing(): Missing | null
  restored(): Restored | null
  /** The person has read what is missing or was restored. */
  dismiss(): void
}

/** The database as it was just opened, and put right from the journal where that could be. */
export interface OpenedState {
  readonly listed: number
  readonly turn: TurnRow
  /** From the journal; `in part` where a piece of that was gone too. */
  readonly restored: boolean | 'in part'
}

export function keepPresence(
  storage: MarkStorage | null,
  name: string,
  now: () => Date,
  opened: OpenedState,
): Presence {
  const before = read(storage, name)
  let mark: Mark = {
    readings: opened.listed,
    at: now().toISOString(),
    epoch: opened.turn.epoch,
    turn: opened.turn.turn,
    missing: missingOf(before, opened),
    restored: opened.restored
      ? { readings: opened.listed, at: now().toISOString() }
      : (before?.restored ?? null),
  }
  /** As other tabs have left it: what was read in one is read in all. */
  const current = () => read(storage, name) ?? mark
  const put = (next: Mark) => {
    mark = next
    try {
      storage?.setItem(name, JSON.stringify(mark))
    } catch {
      // A mark that cannot be written only means that a later loss goes unnoticed.
    }
  }
  const change = (changes: Partial<Mark>) =>
    put({ ...current(), at: now().toISOString(), ...changes })
  if (before !== undefined || opened.listed > 0) put(mark)
  return {
    note: (readings) => change({ readings }),
    written: ({ epoch, turn }) => change({ epoch, turn }),
    caughtUp({ listed, turn }) {
      const missing = missingOf(before, { listed, turn, restored: false })
      // A turn that nobody was told of is no loss.
      const restored = mark.missing !== null && missing === null
      change({
        ...turn,
        readings: listed,
        missing,
        ...(restored ? { restored: { readings: listed, at: now().toISOString() } } : {}),
      })
    },
    missing: () => current().missing,
    restored: () => current().restored,
    dismiss: () => change({ missing: null, restored: null }),
  }
}

/** What is missing in all: a former loss that nobody has answered yet is not forgotten over a new one. */
function missingOf(before: Mark | undefined, opened: OpenedState): Missing | null {
  if (before === undefined) return null
  // Nothing was written since that loss: what is back now is what was lost then.
  const isBack = before.turn === 0 && opened.restored === true
  if (isBack && opened.listed >= (before.missing?.readings ?? 0)) return null
  const lost = lostSince(before, opened)
  if (lost === null || before.missing === null) return lost ?? before.missing
  return { ...lost, readings: lost.readings + before.missing.readings }
}

/** What the mark has seen and the database lacks; null when nothing. */
function lostSince(before: Mark, { listed, turn, restored }: OpenedState): Missing | null {
  const { epoch } = before
  // A mark without a turn is of a former version: only an empty database is told by it.
  const behind =
    epoch === undefined || before.turn === undefined
      ? listed === 0 && turn.turn === 0 && before.readings > 0
      : epoch === turn.epoch
        ? turn.turn < before.turn
        : before.readings > 0 || before.turn > 0
  if (!behind && restored !== 'in part') return null
  return { readings: Math.max(0, before.readings - listed), lastSeen: before.at }
}

function read(storage: MarkStorage | null, name: string): Mark | undefined {
  try {
    const text = storage?.getItem(name)
    if (text === null || text === undefined) return undefined
    const parsed = v.safeParse(presenceShape, JSON.parse(text))
    return parsed.success ? parsed.output : undefined
  } catch {
    return undefined
  }
}
