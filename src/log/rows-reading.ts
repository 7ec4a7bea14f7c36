/**
 * Rows in batches. A browser may fail to read one row (a lost file behind a large value): the others
 * of its batch are then read one by one, and the one is told as damaged.
 */
import type { Database } from './database.ts'
import type { ReadingRow } from './rows.ts'
import type { Damage, Stored } from './types.ts'
import { findRow } from './writing.ts'

export type Found = ReadingRow | Damage
export const isRow = (found: Found): found is ReadingRow => 'seq' in found

/** Rows of a block or of any other range of sequence numbers. */
export async function rowsBetween(db: Database, first: number, after: number): Promise<Found[]> {
  const range = IDBKeyRange.bound(first, after, false, true)
  try {
    return await db.read(['readings'], (tx) => tx.objectStore('readings').getAll(range))
  } catch {
    const seqs = await db.read(['readings'], (tx) => tx.objectStore('readings').getAllKeys(range))
    return oneByOne(db, seqs)
  }
}

/** All listed rows in order of time. The next batch is on its way while one is worked on. */
export async function* listedRows(db: Database, batch: number): AsyncGenerator<Found[]> {
  const after = (last: [number, number] | undefined): Promise<Batch> => {
    const reading = batchAfter(db, last && IDBKeyRange.lowerBound(last, true), batch)
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
): Promise<Batch> {
  try {
    const found = await db.read(['readings'], (tx) =>
      tx.objectStore('readings').index('listed').getAll(range, batch),
    )
    const last = found.at(-1)
    return { found, last: last && [last.listedAtMs!, last.seq] }
  } catch {
    const keys = await db.read(['readings'], async (tx) => {
      const seen: [number, number][] = []
      let cursor = await tx.objectStore('readings').index('listed').openKeyCursor(range)
      while (cursor !== null && seen.length < batch) {
        seen.push(cursor.key)
        cursor = seen.length < batch ? await cursor.continue() : null
      }
      return seen
    })
    const found = await oneByOne(
      db,
      keys.map(([, seq]) => seq),
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
    return oneByOne(db, seqs)
  }
}

/** Rows of the readings named, in that order; what is not there is left out. */
export async function namedRows(db: Database, ids: readonly string[]): Promise<Found[]> {
  try {
    const rows = await db.read(['readings'], (tx) =>
      Promise.all(ids.map((id) => findRow(tx.objectStore('readings'), id))),
    )
    return rows.filter((row) => row !== undefined && row.removedAtMs === undefined) as Found[]
  } catch {
    const found: Found[] = []
    for (const id of ids) {
      const one = await namedRow(db, id)
      if (one !== undefined) found.push(one)
    }
    return found
  }
}

async function namedRow(db: Database, id: string): Promise<Found | undefined> {
  try {
    const row = await db.read(['readings'], (tx) => findRow(tx.objectStore('readings'), id))
    return row?.removedAtMs === undefined ? row : undefined
  } catch (error) {
    return unreadable(id, error)
  }
}

async function oneByOne(db: Database, seqs: readonly number[]): Promise<Found[]> {
  const found: Found[] = []
  for (const seq of seqs) {
    try {
      const row = await db.read(['readings'], (tx) => tx.objectStore('readings').get(seq))
      if (row !== undefined) found.push(row)
    } catch (error) {
      found.push(unreadable(`row ${seq}`, error))
    }
  }
  return found
}

function unreadable(id: string, error: unknown): Damage {
  return { id, where: `cannot be read: ${String(error)}`, raw: '' }
}

/** One reading by id. */
export async function namedReading(
  db: Database,
  id: string,
  open: (row: ReadingRow) => Stored,
): Promise<Stored | undefined> {
  const found = await namedRow(db, id)
  if (found === undefined) return undefined
  return isRow(found) ? open(found) : { state: 'damaged', damage: found }
}
