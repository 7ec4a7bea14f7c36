/**
 * Changes of readings inside one write transaction: rows, their summaries in blocks, and the
 * counters always move together, so that no half reading can be there after a crash.
 */

import {
  dueForBackup,
  headOf,
  idOfRow,
  type PictureRow,
  packed,
  type ReadingRow,
  sortingTime,
  type WholeRow,
} from '../index/rows.ts'
import { summaryOf, summaryOfDamaged } from '../index/summary.ts'
import { LogError } from '../schema/errors.ts'
import type { Reading } from '../schema/reading-schema.ts'
import { type Block, blockOf, type Slot, slotOf, withSlots } from './blocks.ts'
import type { WriteTransaction } from './database.ts'
import { NEW_STATE, STATE_KEY, type State } from './state.ts'

export const WRITTEN_STORES = ['readings', 'inputs', 'pictures', 'blocks', 'state'] as const
type WrittenStore = (typeof WRITTEN_STORES)[number]
/** May span more stores than these. */
export type Writable = WriteTransaction<WrittenStore>

/** About 4,000 readings. */
const SPILL_BLOCKS = 32

export interface Writing {
  /** The row of a reading, removed ones included. */
  row(id: string): Promise<ReadingRow | undefined>
  /** The same with its inputs. */
  wholeRow(id: string): Promise<WholeRow | undefined>
  insert(reading: Reading, picture: PictureRow | undefined): Promise<void>
  /** New content for a row that is there. */
  update(row: ReadingRow, reading: Reading): Promise<void>
  remove(row: ReadingRow, atMs: number): Promise<void>
  restore(row: ReadingRow): Promise<void>
  /** Gone for good. */
  purge(row: ReadingRow): Promise<void>
  /** Number of a change outside the readings (kit). */
  nextChange(): number
  /** Writes blocks so far when they are many; they are then not among those that finish returns. */
  spill(): Promise<void>
  /** Writes blocks and counters; returns the blocks that have changed and how many are listed. */
  finish(): Promise<{ blocks: Block[]; listed: number }>
}

export async function beginWriting(tx: Writable): Promise<Writing> {
  const readings = tx.objectStore('readings')
  const inputs = tx.objectStore('inputs')
  const pictures = tx.objectStore('pictures')
  const stored = (await tx.objectStore('state').get(STATE_KEY)) as State | undefined
  let { nextSeq, change, listed } = stored ?? NEW_STATE
  const { blocksVersion } = stored ?? NEW_STATE
  if (stored === undefined) {
    // New, or the counters were lost: never write over a reading that is there.
    const last = await readings.openKeyCursor(null, 'prev')
    nextSeq = (last?.primaryKey ?? -1) + 1
  }
  const touched = new Map<number, Map<number, Slot>>()

  const setSlot = (seq: number, slot: Slot) => {
    const block = touched.get(blockOf(seq)) ?? new Map<number, Slot>()
    touched.set(blockOf(seq), block.set(slotOf(seq), slot))
  }
  /** Everything that a reading's content decides. A new one fails rather than replace another. */
  const write = async (seq: number, reading: Reading, as: 'add' | 'put') => {
    setSlot(seq, { summary: summaryOf(reading), notes: reading.notes })
    const { parts, inputs: text } = packed(reading)
    const row: ReadingRow = {
      seq,
      id: reading.id,
      ...parts,
      listedAtMs: sortingTime(reading),
      ...(dueForBackup(reading) ? { change: ++change } : {}),
    }
    await Promise.all([readings[as](row), text === '' ? inputs.delete(seq) : inputs.put(text, seq)])
  }

  const writeBlocks = async () => {
    const store = tx.objectStore('blocks')
    const all = [...touched]
    touched.clear()
    return Promise.all(
      all.map(async ([number, slots]) => {
        const block = withSlots(number, await store.get(number), slots)
        await store.put(block)
        return block
      }),
    )
  }

  return {
    row: (id) => findRow(readings, id),

    async wholeRow(id) {
      const row = await findRow(readings, id)
      return row?.inputsCheck === undefined ? row : { ...row, inputs: await inputs.get(row.seq) }
    },

    async insert(reading, picture) {
      listed++
      await Promise.all([write(nextSeq++, reading, 'add'), picture && pictures.put(picture)])
    },

    async update({ seq, removedAtMs }, reading) {
      if (removedAtMs !== undefined) listed++
      await write(seq, reading, 'put')
    },

    async remove(row, atMs) {
      if (row.removedAtMs !== undefined) return
      listed--
      setSlot(row.seq, null)
      const { listedAtMs: _, change: __, ...rest } = row
      await readings.put({ ...rest, removedAtMs: atMs })
    },

    async restore({ removedAtMs, ...rest }) {
      if (removedAtMs === undefined) return
      listed++
      const row: ReadingRow = { ...rest, listedAtMs: listedTime(rest) }
      const head = headOf(row)
      setSlot(row.seq, slotOfRow(row))
      const counts = head.state === 'sound' && dueForBackup(head.reading)
      await readings.put(counts ? { ...row, change: ++change } : row)
    },

    async purge(row) {
      if (row.removedAtMs === undefined) listed--
      setSlot(row.seq, null)
      await Promise.all([
        readings.delete(row.seq),
        inputs.delete(row.seq),
        pictures.delete(idOfRow(row)),
      ])
    },

    nextChange: () => ++change,

    async spill() {
      if (touched.size >= SPILL_BLOCKS) await writeBlocks()
    },

    async finish() {
      const blocks = await writeBlocks()
      const state: State = { nextSeq, change, listed, blocksVersion }
      await tx.objectStore('state').put(state, STATE_KEY)
      return { blocks, listed }
    },
  }
}

/** A row by its reading's id, or by its number when it has none. */
export async function findRow(
  readings: {
    get(seq: number): Promise<ReadingRow | undefined>
    index(name: 'id'): { get(id: string): Promise<ReadingRow | undefined> }
  },
  id: string,
): Promise<ReadingRow | undefined> {
  const bySeq = /^row (\d+)$/.exec(id)
  return (
    (await readings.index('id').get(id)) ?? (bySeq ? readings.get(Number(bySeq[1])) : undefined)
  )
}

export function slotOfRow(row: ReadingRow): Slot {
  if (row.removedAtMs !== undefined) return null
  const head = headOf(row)
  if (head.state === 'sound') {
    return { summary: summaryOf(head.reading), notes: head.reading.notes }
  }
  return { summary: summaryOfDamaged(idOfRow(row), row.listedAtMs ?? 0), notes: '' }
}

function listedTime(row: ReadingRow): number {
  const head = headOf(row)
  return head.state === 'sound' ? sortingTime(head.reading) : 0
}

export function notFound(id: string): LogError {
  return new LogError({ code: 'not found', id })
}
