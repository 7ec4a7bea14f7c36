import { afterEach, describe, expect, test } from 'vitest'
import { keepIndex, rebuildBlock } from '../../../src/log/index/index-keeper.ts'
import { packed } from '../../../src/log/index/rows.ts'
import { summaryOf } from '../../../src/log/index/summary.ts'
import { journalInto } from '../../../src/log/journal/journal.ts'
import type { Reading } from '../../../src/log/schema/types.ts'
import { type Block, withSlots } from '../../../src/log/store/blocks.ts'
import type { Database } from '../../../src/log/store/database.ts'
import { SAMPLE_READING } from '../../screens/stored-samples.ts'
import { bareDatabase, closeBareDatabases } from '../bare-database.ts'

afterEach(closeBareDatabases)

async function database() {
  const db = await bareDatabase()
  db.useJournal(Promise.resolve(journalInto(null, { version: 3, atMs: 0 }, () => undefined)))
  await db.writeUnrecorded(['state'], (tx) =>
    tx.objectStore('state').put({ epoch: 'a', turn: 1 }, 'turn'),
  )
  return db
}

const reading = (n: number): Reading => ({
  ...SAMPLE_READING,
  id: `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`,
  inputs: null,
  details: null,
  recomputations: [],
})
const slotOf = (n: number) => ({ summary: summaryOf(reading(n)), notes: reading(n).notes })
const blockWith = (block: number, ...slots: number[]): Block =>
  withSlots(block, undefined, new Map(slots.map((slot) => [slot, slotOf(128 * block + slot)])))
const rowOf = (seq: number) => ({
  seq,
  id: reading(seq).id,
  ...packed(reading(seq)).parts,
  listedAtMs: seq,
})
const numbers = (ids: readonly string[]) => ids.map((id) => Number(id.slice(-12)))

const put = (
  db: Database,
  blocks: readonly Block[],
  seqs: readonly number[] = [],
  state?: object,
) =>
  db.writeUnrecorded(['blocks', 'readings', 'state'], async (tx) => {
    for (const block of blocks) await tx.objectStore('blocks').put(block)
    for (const seq of seqs) await tx.objectStore('readings').put(rowOf(seq))
    if (state) await tx.objectStore('state').put(state as never, 'state')
  })

describe('the index of a log', () => {
  test('holds all blocks, also of a log with holes that is read in many slices', async () => {
    const db = await database()
    // Slices of eight, six at a time: the ends of these, and nothing between.
    const blocks = [0, 7, 8, 47, 48, 55, 56, 100]
    await put(
      db,
      blocks.map((block) => blockWith(block, 0, 127)),
    )
    const found = numbers((await keepIndex(db).load()).find().ids())
    const expected = blocks.flatMap((block) => [128 * block, 128 * block + 127])
    expect(found.sort((a, b) => a - b)).toEqual(expected)
  })

  test('of an empty log is empty', async () => {
    expect((await keepIndex(await database()).load()).find().count).toBe(0)
  })

  test('takes what is written here and in other tabs, once it is loaded', async () => {
    const db = await database()
    await put(db, [blockWith(0, 1)])
    const index = keepIndex(db)
    // Before, there is nothing to be kept in step.
    index.took([blockWith(0, 1, 2, 3)])
    await index.reload([0])
    const loaded = await index.load()
    expect(loaded.find().count).toBe(1)
    index.took([blockWith(0, 1, 2)])
    expect(loaded.find().count).toBe(2)
    await put(db, [blockWith(0, 1, 2, 3), blockWith(1, 4)])
    await index.reload([0, 1, 99])
    expect(loaded.find().count).toBe(4)
    expect(await index.load()).toBe(loaded)
    index.forget()
    expect(await index.load()).not.toBe(loaded)
  })
})

describe('blocks of a former version', () => {
  const OLD = { nextSeq: 129, change: 5, listed: 2, blocksVersion: 1 }

  test('are made again from the readings, once', async () => {
    const db = await database()
    await put(db, [blockWith(0, 5)], [0, 128], OLD)
    expect(numbers((await keepIndex(db).load()).find().ids())).toEqual([128, 0])
    const state = await db.read(['state'], (tx) => tx.objectStore('state').get('state'))
    expect(state).toEqual({ ...OLD, blocksVersion: 2 })
    // Now they are of this version: taken as they lie.
    await put(db, [blockWith(0, 7)])
    expect(numbers((await keepIndex(db).load()).find().ids())).toEqual([128, 7])
  })

  test('show what was and is, of one block alone', async () => {
    const db = await database()
    await put(db, [blockWith(1, 5)], [127, 128, 255, 256])
    const { before, after } = await rebuildBlock(db, 1)
    expect(before).toEqual(blockWith(1, 5))
    expect(after).toEqual(blockWith(1, 0, 127))
    expect((await rebuildBlock(db, 7)).before).toBeUndefined()
  })
})
