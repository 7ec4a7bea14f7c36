/**
 * Version 2: readings by sequence number with history and recomputations, summaries in blocks,
 * settings, and a place for files on their way in. Runs inside one version-change transaction:
 * either every former record is carried over, or the database stays as it was.
 */
import type { IDBPDatabase, IDBPTransaction } from 'idb'
import * as v from 'valibot'
import { crc32 } from '../crc32.ts'
import {
  type KitRow,
  type PictureRow,
  packed,
  type ReadingRow,
  sortingTime,
} from '../index/rows.ts'
import type { PictureFacts } from '../schema/reading-schema.ts'
import { BLOCKS_VERSION } from '../store/blocks.ts'
import { STATE_KEY, type State } from '../store/state.ts'
import { kitItemFromVersion1, readingFromVersion1 } from './records.ts'
import { picture1 } from './version-1.ts'

export type Upgrade = IDBPTransaction<unknown, string[], 'versionchange'>

export async function upgradeTo2(db: IDBPDatabase<unknown>, tx: Upgrade): Promise<void> {
  const former = tx.objectStore('readings')
  former.name = 'readings of version 1'
  const readings = db.createObjectStore('readings', { keyPath: 'seq' })
  readings.createIndex('id', 'id', { unique: true })
  // An index leaves out rows that lack its field: removed readings are not listed.
  readings.createIndex('listed', ['listedAtMs', 'seq'])
  readings.createIndex('removed', 'removedAtMs')
  readings.createIndex('change', 'change')
  const inputs = db.createObjectStore('inputs')
  db.createObjectStore('blocks', { keyPath: 'block' })
  db.createObjectStore('settings')
  db.createObjectStore('state')
  db.createObjectStore('incoming', { autoIncrement: true })
  const kit = tx.objectStore('kit')
  kit.createIndex('removed', 'removedAtMs')
  kit.createIndex('change', 'change')

  let seq = 0
  let change = 0
  let cursor = await former.openCursor()
  while (cursor !== null) {
    const facts = await carryPicture(tx, cursor.primaryKey)
    const { row, text } = readingRow(cursor.value, facts, seq++, change + 1)
    if (row.change !== undefined) change++
    await readings.add(row)
    if (text !== '') await inputs.add(text, row.seq)
    cursor = await cursor.continue()
  }
  let kitCursor = await kit.openCursor()
  while (kitCursor !== null) {
    await kitCursor.update(kitRow(kitCursor.value, kitCursor.primaryKey, ++change))
    kitCursor = await kitCursor.continue()
  }
  // Blocks are derived: version 0 has them made at the first search. An empty log has none to make.
  const blocksVersion = seq === 0 ? BLOCKS_VERSION : 0
  const state: State = { nextSeq: seq, change, listed: seq, blocksVersion }
  await tx.objectStore('state').put(state, STATE_KEY)
  db.deleteObjectStore('readings of version 1')
}

/** A record that cannot be parsed is kept verbatim and listed as damaged. */
function readingRow(
  value: unknown,
  facts: PictureFacts | null,
  seq: number,
  change: number,
): { row: ReadingRow; text: string } {
  const reading = readingFromVersion1(value, facts)
  if (reading === undefined) {
    const { id, takenAt } = value as { id: unknown; takenAt?: unknown }
    const ms = typeof takenAt === 'string' ? Date.parse(takenAt) : Number.NaN
    const row = {
      seq,
      id: typeof id === 'string' ? id : `row ${seq}`,
      json: '',
      check: 0,
      former: value,
      listedAtMs: Number.isFinite(ms) ? ms : 0,
    }
    return { row, text: '' }
  }
  const { parts, inputs } = packed(reading)
  const row = {
    seq,
    id: reading.id,
    ...parts,
    listedAtMs: sortingTime(reading),
    ...(reading.simulated ? {} : { change }),
  }
  return { row, text: inputs }
}

async function carryPicture(tx: Upgrade, id: IDBValidKey): Promise<PictureFacts | null> {
  const pictures = tx.objectStore('pictures')
  const former = v.safeParse(picture1, await pictures.get(id))
  if (!former.success) return null
  const { type, width, height } = former.output
  const bytes = new Uint8Array(former.output.bytes)
  const facts = { type, width, height, bytes: bytes.length, crc32: crc32(bytes) }
  const row: PictureRow = { id: former.output.id, facts, bytes }
  await pictures.put(row)
  return facts
}

function kitRow(value: unknown, key: IDBValidKey, change: number): KitRow {
  const item = kitItemFromVersion1(value)
  // The key path demands the former key.
  return { id: key as string, item: item ?? value, change }
}
