/** The database brought to where the journal is: all of it, or what it has lost at its end. */
import { unwrap } from 'idb'
import type { ReadingRow } from '../index/rows.ts'
import {
  BLOCKS_VERSION,
  type Block,
  blockOf,
  type Slot,
  slotOf,
  withSlots,
} from '../store/blocks.ts'
import type { Database } from '../store/database.ts'
import { NEW_STATE, STATE_KEY, type State } from '../store/state.ts'
import { slotOfRow } from '../store/writing.ts'
import { JOURNALED_STORES } from './changes.ts'
import { TURN_KEY, type TurnRow } from './journal.ts'
import type { Keeper, ReplayedChange } from './keeper.ts'
import { KEY_PATHS } from './read-changes.ts'

const CHANGES_A_PIECE = 500

export interface PutBack {
  /** How many readings are listed now. */
  readonly listed: number
  /** False: some changes could not be read. */
  readonly whole: boolean
}

interface Pictures {
  getAllKeys(): Promise<string[]>
  delete(key: string): Promise<void>
}
/**
 * Applies what the journal holds after the database's own turn. Pictures first, in pieces: one without
 * its reading does no harm. Then all else in one transaction: a database that is half restored is
 * still at its former turn, and is restored again.
 *
 * @param from the turn at which the database is; 0 or null: there is nothing in it
 * @returns null when another tab was quicker
 */
export async function restoreFrom(
  db: Database,
  keeper: Keeper,
  epoch: string,
  from: number | null,
  to: number,
): Promise<PutBack | null> {
  const { count, whole: sound } = await keeper.replay(epoch, from ?? -1)
  const rows: ReplayedChange[] = []
  const put = new Set<IDBValidKey>()
  for (let done = 0; done < count; done += CHANGES_A_PIECE) {
    const piece = await keeper.next(CHANGES_A_PIECE)
    const pictures = piece.filter(({ bytes }) => bytes !== undefined)
    rows.push(...piece.filter(({ change }) => change[0] !== 'pictures' || change.length < 3))
    if (pictures.length === 0) continue
    for (const { change } of pictures) put.add(change[1]!)
    await db.writeUnrecorded(['pictures'], (tx) =>
      Promise.all(
        pictures.map(({ change, bytes }) =>
          tx.objectStore('pictures').put({ ...(change[2] as { id: string }), bytes } as never),
        ),
      ),
    )
  }
  return db.writeUnrecorded([...JOURNALED_STORES, 'blocks'], async (tx) => {
    const state = tx.objectStore('state')
    const here = (await state.get(TURN_KEY)) as TurnRow | undefined
    if ((here?.turn ?? null) !== from) return null
    const readings: ReadingRow[] = []
    // No waiting for one row: what fails ends the transaction, and a promise for each takes as long
    // as the writing.
    for (const { change } of rows) {
      const [name, key, value] = change
      const store = unwrap(tx.objectStore(name)) as IDBObjectStore
      if (key === undefined) {
        if (name === 'pictures') await dropOthers(tx.objectStore('pictures'), put)
        else store.clear()
      } else if (change.length === 4) store.delete(IDBKeyRange.bound(key, value))
      else if (change.length === 2) store.delete(key)
      else {
        store.put(value, KEY_PATHS[name] === null ? key : undefined)
        if (name === 'readings') readings.push(value as ReadingRow)
      }
    }
    const blocks = unwrap(tx.objectStore('blocks')) as IDBObjectStore
    blocks.clear()
    const whole = !from
    // Made while the browser still writes the rows: it takes a third as long.
    if (whole) for (const block of blocksOf(readings)) blocks.put(block)
    const stored = ((await state.get(STATE_KEY)) as State | undefined) ?? NEW_STATE
    // A journal with a gap has counted what it no longer holds.
    const now = whole ? { ...stored, ...countsOf(readings, stored) } : stored
    // Otherwise they are made again from the readings at the first search.
    await state.put({ ...now, blocksVersion: whole ? BLOCKS_VERSION : 0 }, STATE_KEY)
    await state.put({ epoch, turn: to } satisfies TurnRow, TURN_KEY)
    return { listed: now.listed, whole: sound }
  })
}

const countsOf = (readings: readonly ReadingRow[], { nextSeq }: State) => ({
  listed: readings.filter(({ removedAtMs }) => removedAtMs === undefined).length,
  nextSeq: readings.reduce((next, { seq }) => Math.max(next, seq + 1), nextSeq),
})

/** The summaries of all readings there are. */
function* blocksOf(readings: readonly ReadingRow[]): Generator<Block> {
  const blocks = new Map<number, Map<number, Slot>>()
  for (const row of readings) {
    const slots = blocks.get(blockOf(row.seq)) ?? new Map<number, Slot>()
    blocks.set(blockOf(row.seq), slots.set(slotOf(row.seq), slotOfRow(row)))
  }
  for (const [number, slots] of blocks) yield withSlots(number, undefined, slots)
}

/** The pictures that the journal no longer names. */
async function dropOthers(pictures: Pictures, kept: ReadonlySet<IDBValidKey>): Promise<void> {
  const keys = await pictures.getAllKeys()
  await Promise.all(keys.filter((key) => !kept.has(key)).map((key) => pictures.delete(key)))
}
