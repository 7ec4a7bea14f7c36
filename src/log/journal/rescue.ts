/**
 * The log read out of its journal alone: for when the browser cannot open the database, as on a full
 * disk. Nothing is written; what is exported from it is whole.
 */
import { exportLog } from '../export/export-log.ts'
import type { ReadingRow } from '../index/rows.ts'
import { LogError } from '../schema/errors.ts'
import type { Log } from '../schema/types.ts'
import type { Context } from '../store/context.ts'
import type { Database } from '../store/database.ts'
import type { JournaledStore } from './changes.ts'
import type { Keeper } from './keeper.ts'

const CHANGES_A_PIECE = 500

type Row = readonly [key: IDBValidKey, value: unknown]
type Range = IDBKeyRange | null | undefined

/** @throws LogError 'storage unanswered' where there is no journal either */
export async function* exportJournal(
  open: () => Promise<Keeper>,
  now: () => Date,
  ...what: Parameters<Log['export']>
): AsyncGenerator<Uint8Array> {
  const keeper = await open().catch((cause: unknown) => {
    throw new LogError({ code: 'storage unanswered', detail: String(cause) }, { cause })
  })
  try {
    const db = readOnly(await contentOf(keeper))
    yield* exportLog({ db, now } as Context, ...what)
  } finally {
    await keeper.close()
  }
}

async function contentOf(keeper: Keeper): Promise<Map<JournaledStore, Row[]>> {
  const found = await keeper.look()
  if (!found) throw new LogError({ code: 'storage unanswered', detail: 'no second copy' })
  const stores = new Map<JournaledStore, Row[]>()
  const { count } = await keeper.replay(found.epoch, -1)
  for (let done = 0; done < count; done += CHANGES_A_PIECE) {
    for (const { change, bytes } of await keeper.next(CHANGES_A_PIECE)) {
      // What deletes stands before what is left: nothing lies here to be deleted.
      if (change.length !== 3) continue
      const [store, key, value] = change
      const rows = stores.get(store) ?? []
      stores.set(store, rows)
      rows.push([key, bytes === undefined ? value : { ...(value as object), bytes }])
    }
  }
  return stores
}

/** As much of a database as an export reads. */
function readOnly(stores: ReadonlyMap<JournaledStore, Row[]>): Database {
  const tables = new Map([...stores].map(([name, rows]) => [name, table(rows)]))
  const readings = (stores.get('readings') ?? []).map(([, value]) => value as ReadingRow)
  const indexes = {
    // A damaged row may have none; a database leaves it out of the index as well.
    id: table(readings.flatMap((row): Row[] => (row.id === undefined ? [] : [[row.id, row]]))),
    listed: table(
      readings.flatMap((row): Row[] =>
        row.listedAtMs === undefined ? [] : [[[row.listedAtMs, row.seq], row]],
      ),
    ),
  }
  const objectStore = (name: JournaledStore) => ({
    ...(tables.get(name) ?? table([])),
    index: (of: keyof typeof indexes) => indexes[of],
  })
  const refuse = () => Promise.reject(new LogError({ code: 'closed' }))
  return {
    read: (_stores, work) => work({ objectStore } as never),
    write: refuse,
    writeUnrecorded: refuse,
    useJournal() {},
    stopped: () => true,
    close() {},
  }
}

/** Rows read by their keys, in the order of these. */
function table(unsorted: readonly Row[]) {
  const rows = unsorted.toSorted(([a], [b]) => indexedDB.cmp(a, b))
  /** The first row that does not lie before the range. */
  const beginOf = (range: IDBKeyRange): number => {
    let [low, high] = [0, rows.length]
    while (low < high) {
      const middle = (low + high) >> 1
      const order = range.lower === undefined ? 1 : indexedDB.cmp(rows[middle]![0], range.lower)
      if (order < 0 || (order === 0 && range.lowerOpen)) low = middle + 1
      else high = middle
    }
    return low
  }
  const getAll = async (range?: Range, count = rows.length): Promise<unknown[]> => {
    const found: unknown[] = []
    for (let at = range ? beginOf(range) : 0; at < rows.length && found.length < count; at++) {
      const [key, value] = rows[at]!
      if (range && !range.includes(key)) break
      found.push(value)
    }
    return found
  }
  return { getAll, get: async (key: IDBValidKey) => (await getAll(IDBKeyRange.only(key), 1))[0] }
}
