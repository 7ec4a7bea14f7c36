import 'fake-indexeddb/auto'
import { expect, it } from 'vitest'
import { keepIndex } from '../../src/log/index/index-keeper.ts'
import { summaryOf } from '../../src/log/index/summary.ts'
import type { Block } from '../../src/log/store/blocks.ts'
import { BLOCKS_VERSION, withSlots } from '../../src/log/store/blocks.ts'
import type { Database } from '../../src/log/store/database.ts'
import { SAMPLE_READING } from '../screens/stored-samples.ts'

const content = { summary: summaryOf(SAMPLE_READING), notes: '' }
const blockWith = (readings: number): Block =>
  withSlots(0, undefined, new Map(Array.from({ length: readings }, (_, slot) => [slot, content])))

/** A database of one block, whose blocks are handed over when the test says so. */
function slowDatabase() {
  const stored = { block: blockWith(1) }
  const gates: (() => void)[] = []
  const stores = {
    state: { get: async () => ({ nextSeq: 1, blocksVersion: BLOCKS_VERSION }) },
    blocks: {
      openKeyCursor: async () => ({ primaryKey: 0 }),
      getAll: async () => {
        const { block } = stored
        await new Promise<void>((open) => gates.push(open))
        return [block]
      },
    },
  }
  const read = (_names: unknown, work: (tx: unknown) => unknown) =>
    work({ objectStore: (name: keyof typeof stores) => stores[name] })
  return { stored, gates, db: { read } as unknown as Database }
}

it('a reading that is added while the index loads is in it', async () => {
  const { db, gates } = slowDatabase()
  const index = keepIndex(db)
  const loading = index.load()
  await expect.poll(() => gates.length).toBe(1)
  index.took([blockWith(2)])
  gates[0]!()
  expect((await loading).find({}).count).toBe(2)
})

it('what is forgotten while it loads is read again', async () => {
  const { db, gates, stored } = slowDatabase()
  const index = keepIndex(db)
  const loading = index.load()
  await expect.poll(() => gates.length).toBe(1)
  // An import, or another tab: all is new.
  stored.block = blockWith(3)
  index.forget()
  gates[0]!()
  await expect.poll(() => gates.length).toBe(2)
  gates[1]!()
  expect((await loading).find({}).count).toBe(3)
})

it('a load that failed is tried again', async () => {
  const { db, gates } = slowDatabase()
  let refused = true
  const read: Database['read'] = (...asked) => {
    if (refused) return Promise.reject(new Error('the disk did not answer'))
    return db.read(...asked)
  }
  const index = keepIndex({ ...db, read })
  await expect(index.load()).rejects.toThrow('the disk did not answer')
  refused = false
  const loading = index.load()
  await expect.poll(() => gates.length).toBe(1)
  gates[0]!()
  expect((await loading).find({}).count).toBe(1)
})
