/**
 * All of the database as one snapshot in the journal, in slices that keep the screen responsive.
 */
import type { Database } from '../store/database.ts'
import { type Change, JOURNALED_STORES, type JournaledStore, textOfChanges } from './changes.ts'
import { TURN_KEY, type TurnRow } from './journal.ts'
import type { Keeper, PictureBytes } from './keeper.ts'
import type { JournalHeader } from './segments.ts'

const ROWS_A_SLICE: Record<JournaledStore, number> = {
  readings: 200,
  inputs: 200,
  pictures: 10,
  kit: 100,
  settings: 100,
  state: 100,
  recordings: 50,
  recordingChunks: 20,
  recordingDetails: 20,
}
/**
 * Saving goes on meanwhile: a slice may hold what was changed after the snapshot's turn. The records
 * of these changes follow in the journal and are applied again, which changes nothing.
 */
export async function takeSnapshot(
  db: Database,
  keeper: Keeper,
  { version, atMs }: Pick<JournalHeader, 'version' | 'atMs'>,
): Promise<void> {
  const turnOf = async () =>
    (await db.read(['state'], (tx) => tx.objectStore('state').get(TURN_KEY))) as TurnRow
  await keeper.beginSnapshot({ epoch: (await turnOf()).epoch, version, atMs })
  // Not before: what lies in former segments is then part of this turn.
  const { turn } = await turnOf()
  for (const store of JOURNALED_STORES) {
    let last: IDBValidKey | undefined
    for (;;) {
      const slice = await sliceOf(db, store, last)
      const changes: Change[] = []
      const pictures: PictureBytes[] = []
      for (const [key, value] of slice) {
        last = key
        if (store === 'state' && key === TURN_KEY) continue
        if (store === 'pictures') {
          const { bytes, ...rest } = value as { id: string; bytes: Uint8Array<ArrayBuffer> }
          pictures.push({ id: rest.id, bytes })
          changes.push([store, key, rest])
        } else changes.push([store, key, value])
      }
      if (changes.length > 0) await keeper.snapshotPart(turn, textOfChanges(changes), pictures)
      if (slice.length < ROWS_A_SLICE[store]) break
    }
  }
  const ids = await db.read(['pictures'], (tx) => tx.objectStore('pictures').getAllKeys())
  await keeper.finishSnapshot(turn, ids)
}

function sliceOf(db: Database, store: JournaledStore, after: IDBValidKey | undefined) {
  const range = after === undefined ? undefined : IDBKeyRange.lowerBound(after, true)
  return db.read([store], async (tx) => {
    // The stores differ in their keys; what is done with them does not.
    const rows = tx.objectStore(store) as unknown as {
      getAll(range: IDBKeyRange | undefined, count: number): Promise<unknown[]>
      getAllKeys(range: IDBKeyRange | undefined, count: number): Promise<IDBValidKey[]>
    }
    const [keys, values] = await Promise.all([
      rows.getAllKeys(range, ROWS_A_SLICE[store]),
      rows.getAll(range, ROWS_A_SLICE[store]),
    ])
    return keys.map((key, i) => [key, values[i]] as const)
  })
}
