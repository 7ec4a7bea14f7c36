/**
 * Rows in batches. A browser may fail to read one row (a lost file behind a large value): the others
 * of its batch are then read one by one, and the one is told as damaged.
 */

import type { Damage, Stored } from '../schema/types.ts'
import type { Database, ReadTransaction } from '../store/database.ts'
import { findRow } from '../store/writing.ts'
import type { ReadingRow, WholeRow } from './rows.ts'

export type Found = WholeRow | Damage
export const isRow = (found: Found): found is WholeRow => 'seq' in found

const STORES = ['readings', 'inputs'] as const

/** Rows with their inputs, when they are wanted, out of one transaction: they belong together. */
async function joined(
  tx: ReadTransaction<(typeof STORES)[number]>,
  rows: readonly ReadingRow[],
  whole: boolean,
): Promise<WholeRow[]> {
  if (!whole) return [...rows]
  const inputs = tx.objectStore('inputs')
  return Promise.all(
    rows.map(async (row) =>
      row.inputsCheck === undefined ? row : { ...row, inputs: await inputs.get(row.seq) },
    ),
  )
}

/** Whole rows of a block or of any other range of sequence numbers. */
export async function rowsBetween(db: Database, first: number, after: number): Promise<Found[]> {
  const range = IDBKeyRange.bound(first, after, false, true)
  try {
    return await db.read(STORES, async (tx) =>
      joined(tx, await tx.objectStore('readings').getAll(range), true),
    )
  } catch {
    const seqs = await db.read(['readings'], (tx) => tx.objectStore('readings').getAllKeys(range))
    return oneByOne(db, seqs, true)
  }
}

/** All listed rows in order of time. The next batch is on its way while one is worked on. */
export async function* listedRows(
  db: Database,
  batch: number,
  whole: boolean,
): AsyncGenerator<Found[]> {
  const after = (last: [number, number] | undefined): Promise<Batch> => {
    const reading = batchAfter(db, last && IDBKeyRange.lowerBound(last, true), batch, whole)
    // Awaited in its turn; a failure must not count as unhandled before.
    reading.catch(() => {})
    return reading
  }
  let coming: Promise<Batch> | null = after(undefined)
  while (coming !== null) {
    const got: Batch = await coming
    coming = got.last !== undefined && got.found.length === batch ? after(got.last) : null
    if (got.found.length > 0) yield got.found
  }
}

interface Batch {
  readonly found: Found[]
  readonly last: [number, number] | undefined
}

async function batchAfter(
  db: Database,
  range: IDBKeyRange | undefined,
  batch: number,
  whole: boolean,
): Promise<Batch> {
  try {
    const found = await db.read(STORES, async (tx) =>
      joined(tx, await tx.objectStore('readings').index('listed').getAll(range, batch), whole),
    )
    const last = found.at(-1)
    return { found, last: last && [last.listedAtMs!, last.seq] }
  } catch {
    const keys = await db.read(['readings'], async (tx) => {
      const seen: [number, number][] = []
      let cursor = await tx.objectStore('readings').index('listed').openKeyCursor(range)
      while (cursor !== null) {
        seen.push(cursor.key)
        cursor = seen.length < batch ? await cursor.continue() : null
      }
      return seen
    })
    const found = await oneByOne(
      db,
      keys.map(([, seq]) => seq),
      whole,
    )
    return { found, last: keys.at(-1) }
  }
}

/** The newest listed rows, newest first. */
export async function newestRows(db: Database, count: number): Promise<Found[]> {
  const seqs = await db.read(['readings'], async (tx) => {
    const seen: number[] = []
    let cursor = await tx.objectStore('readings').index('listed').openKeyCursor(null, 'prev')
    while (cursor !== null && seen.length < count) {
      seen.push(cursor.primaryKey)
      cursor = seen.length < count ? await cursor.continue() : null
    }
    return seen
  })
  try {
    const rows = await db.read(['readings'], (tx) =>
      Promise.all(seqs.map((seq) => tx.objectStore('readings').get(seq))),
    )
    return rows.filter((row) => row !== undefined)
  } catch {
    return oneByOne(db, seqs, false)
  }
}

/** Rows of the readings named, in that order; what is not there is left out. */
export async function namedRows(
  db: Database,
  ids: readonly string[],
  whole: boolean,
): Promise<Found[]> {
  try {
    return await db.read(STORES, async (tx) => {
      const rows = await Promise.all(ids.map((id) => findRow(tx.objectStore('readings'), id)))
      const listed = rows.filter((row) => row !== undefined && row.removedAtMs === undefined)
      return joined(tx, listed as ReadingRow[], whole)
    })
  } catch {
    const found: Found[] = []
    for (const id of ids) {
      const one = await namedRow(db, id, whole)
      if (one !== undefined && !(isRow(one) && one.removedAtMs !== undefined)) found.push(one)
    }
    return found
  }
}

function namedRow(db: Database, id: string, whole: boolean): Promise<Found | undefined> {
  return separately(db, id, whole, (readings) => findRow(readings, id))
}

async function oneByOne(db: Database, seqs: readonly number[], whole: boolean): Promise<Found[]> {
  const found: Found[] = []
  for (const seq of seqs) {
    const one = await separately(db, `row ${seq}`, whole, (readings) => readings.get(seq))
    if (one !== undefined) found.push(one)
  }
  return found
}

type Readings = Parameters<typeof findRow>[0]

/** One row in transactions of its own; without its inputs when only those cannot be read. */
async function separately(
  db: Database,
  id: string,
  whole: boolean,
  get: (readings: Readings) => Promise<ReadingRow | undefined>,
): Promise<Found | undefined> {
  const read = (withInputs: boolean) =>
    db.read(STORES, async (tx) => {
      const row = await get(tx.objectStore('readings'))
      return row && (await joined(tx, [row], withInputs))[0]
    })
  try {
    return await read(whole).catch((error: unknown) => {
      if (!whole) throw error
      return read(false)
    })
  } catch (error) {
    return unreadable(id, error)
  }
}

function unreadable(id: string, error: unknown): Damage {
  return { id, where: `cannot be read: ${String(error)}`, raw: '' }
}

/** One reading by id; none when it is removed. */
export async function namedReading(
  db: Database,
  id: string,
  open: (row: WholeRow) => Stored,
): Promise<Stored | undefined> {
  const found = await namedRow(db, id, true)
  if (found === undefined) return undefined
  if (!isRow(found)) return { state: 'damaged', damage: found }
  return found.removedAtMs === undefined ? open(found) : undefined
}
