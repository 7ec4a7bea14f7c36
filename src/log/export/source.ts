import { headOf, kitItemOf, unpacked } from '../index/rows.ts'
import { type Found, isRow, listedRows, namedRows } from '../index/rows-reading.ts'
import type { KitItem } from '../schema/kit-schema.ts'
import type { Reading } from '../schema/reading-schema.ts'
import type { ExportOptions } from '../schema/types.ts'
import type { Context } from '../store/context.ts'
import { STATE_KEY, type State } from '../store/state.ts'

/** Readings in memory at a time; each batch is one task, short enough for a responsive screen. */
const BATCH = { heads: 250, whole: 50 } as const

/**
 * The readings to export, batch by batch in order of time. Damaged ones are told and left out.
 *
 * @param whole with inputs and details, or without (a table does not need them)
 */
export async function* readingsToExport(
  context: Context,
  { ids, signal, progress, onDamage }: ExportOptions,
  whole: boolean,
): AsyncGenerator<Reading[]> {
  const total = ids?.length ?? (await listedCount(context))
  const open = whole ? unpacked : headOf
  let done = 0
  progress?.(0, total)
  for await (const batch of rowsToTake(context, ids, whole)) {
    signal?.throwIfAborted()
    const sound: Reading[] = []
    for (const found of batch) {
      const stored = isRow(found) ? open(found) : { state: 'damaged' as const, damage: found }
      if (stored.state === 'sound') sound.push(stored.reading)
      else onDamage?.(stored.damage)
    }
    done += batch.length
    yield sound
    progress?.(Math.min(done, total), total)
  }
  signal?.throwIfAborted()
}

async function* rowsToTake(
  { db }: Context,
  ids: readonly string[] | undefined,
  whole: boolean,
): AsyncGenerator<Found[]> {
  const size = BATCH[whole ? 'whole' : 'heads']
  if (ids === undefined) {
    yield* listedRows(db, size, whole)
    return
  }
  for (let from = 0; from < ids.length; from += size) {
    yield await namedRows(db, ids.slice(from, from + size), whole)
  }
}

async function listedCount({ db }: Context): Promise<number> {
  const state = await db.read(['state'], (tx) => tx.objectStore('state').get(STATE_KEY))
  return (state as State | undefined)?.listed ?? 0
}

export async function kitToExport(
  { db }: Context,
  { onDamage }: ExportOptions,
): Promise<KitItem[]> {
  const rows = await db.read(['kit'], (tx) => tx.objectStore('kit').getAll())
  const items: KitItem[] = []
  for (const row of rows) {
    if (row.removedAtMs !== undefined) continue
    const item = kitItemOf(row)
    if ('where' in item) onDamage?.(item)
    else items.push(item)
  }
  return items
}
