import {
  BLOCK_SIZE,
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
import { makeIndex, type SummaryIndex } from './summary-index.ts'

/** Rows copied in one go: about half a megabyte, a few milliseconds. */
const BLOCKS_A_SLICE = 8
const SLICES_AT_A_TIME = 6

/** Loads the summaries when they are first wanted and keeps them in step with the database. */
export interface IndexKeeper {
  /** The first call reads all blocks, in slices that keep the screen responsive. */
  load(): Promise<SummaryIndex>
  /** Blocks as this tab has just written them. */
  took(blocks: readonly Block[]): void
  /** Blocks that another tab has written. */
  reload(numbers: readonly number[]): Promise<void>
  /** Forget all; the next load reads again. */
  forget(): void
}

export function keepIndex(db: Database): IndexKeeper {
  let loading: Promise<SummaryIndex> | undefined
  let index: SummaryIndex | undefined
  /** Came in while loading: newer than what is being read. */
  let meanwhile: Block[] = []
  /** Counts what has been forgotten, so that a load from before is not taken for the present. */
  let generation = 0

  async function load(): Promise<SummaryIndex> {
    const mine = generation
    await renewBlocks(db)
    const last = await db.read(['blocks'], (tx) =>
      tx.objectStore('blocks').openKeyCursor(null, 'prev'),
    )
    const slices = last === null ? 0 : Math.floor(last.primaryKey / BLOCKS_A_SLICE) + 1
    const rows: Block[] = []
    // A few on their way while one is taken in. Readings added meanwhile come by took().
    for (let from = 0; from < slices; from += SLICES_AT_A_TIME) {
      const some = Array.from({ length: Math.min(SLICES_AT_A_TIME, slices - from) }, (_, i) =>
        slice(db, (from + i) * BLOCKS_A_SLICE),
      )
      for (const blocks of await Promise.all(some)) rows.push(...blocks)
    }
    if (mine !== generation) return load()
    const made = makeIndex(rows)
    for (const block of meanwhile) made.replace(block)
    meanwhile = []
    index = made
    return made
  }

  return {
    load() {
      if (loading === undefined) {
        const mine = load()
        loading = mine
        mine.catch(() => {
          if (loading === mine) loading = undefined
        })
      }
      return loading
    },
    took(blocks) {
      if (index !== undefined) for (const block of blocks) index.replace(block)
      else if (loading !== undefined) meanwhile.push(...blocks)
    },
    async reload(numbers) {
      if (loading === undefined) return
      await loading
      const blocks = await db.read(['blocks'], (tx) =>
        Promise.all(numbers.map((number) => tx.objectStore('blocks').get(number))),
      )
      for (const block of blocks) if (block !== undefined) index?.replace(block)
    },
    forget() {
      generation++
      loading = undefined
      index = undefined
      meanwhile = []
    },
  }
}

function slice(db: Database, from: number): Promise<Block[]> {
  const range = IDBKeyRange.bound(from, from + BLOCKS_A_SLICE, false, true)
  return db.read(['blocks'], (tx) => tx.objectStore('blocks').getAll(range))
}

/** Makes all blocks again when they are of another version, a block a transaction. */
async function renewBlocks(db: Database): Promise<void> {
  const state = await db.read(['state'], (tx) => tx.objectStore('state').get(STATE_KEY))
  const { nextSeq, blocksVersion } = (state as State | undefined) ?? NEW_STATE
  if (blocksVersion === BLOCKS_VERSION) return
  for (let block = 0; block <= blockOf(Math.max(nextSeq - 1, 0)); block++) {
    await rebuildBlock(db, block)
  }
  await db.write(['state'], async (tx) => {
    const now = (await tx.objectStore('state').get(STATE_KEY)) as State | undefined
    await tx
      .objectStore('state')
      .put({ ...(now ?? NEW_STATE), blocksVersion: BLOCKS_VERSION }, STATE_KEY)
  })
}

/** One block from its readings; damaged ones are marked as such. Returns what it was and is. */
export async function rebuildBlock(
  db: Database,
  number: number,
): Promise<{ before: Block | undefined; after: Block }> {
  return db.write(['readings', 'blocks'], async (tx) => {
    const first = number * BLOCK_SIZE
    const rows = await tx
      .objectStore('readings')
      .getAll(IDBKeyRange.bound(first, first + BLOCK_SIZE, false, true))
    const slots = new Map<number, Slot>(rows.map((row) => [slotOf(row.seq), slotOfRow(row)]))
    const before = await tx.objectStore('blocks').get(number)
    const after = withSlots(number, undefined, slots)
    await tx.objectStore('blocks').put(after)
    return { before, after }
  })
}
