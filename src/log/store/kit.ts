/** The person's kit: cameras, cards, known heats, lamps, tone curves. */
import * as v from 'valibot'
import { dueForBackup, issueText, type KitRow, kitItemOf } from '../index/rows.ts'
import { LogError } from '../schema/errors.ts'
import { KIT_VERSION, type KitItem, kitChanges, kitItem } from '../schema/kit-schema.ts'
import { momentOf, msOf } from '../schema/moment.ts'
import type { Damage, Kit } from '../schema/types.ts'
import type { Context } from './context.ts'
import type { WriteTransaction } from './database.ts'
import { NEW_STATE, STATE_KEY, type State } from './state.ts'

export function kitOf(context: Context): Kit {
  const { db, announcer, now, zone, newId } = context

  async function write<T>(work: (tx: WriteTransaction<'kit' | 'state'>) => Promise<T>): Promise<T> {
    const value = await db.write(['kit', 'state'], work)
    announcer.announce({ kind: 'kit' })
    return value
  }

  return {
    async add(draft) {
      const moment = now()
      const item = checked({
        version: KIT_VERSION,
        id: draft.id ?? newId(),
        addedAt: moment.toISOString(),
        demo: false,
        simulated: false,
        date: momentOf(moment, zone()),
        notes: '',
        cameraId: null,
        balanceState: null,
        temperatureK: null,
        standardUncertaintyK: null,
        ...draft,
      })
      return write(async (tx) => {
        // What was deleted may be kept again; only what stands is in the way.
        const row = await tx.objectStore('kit').get(item.id)
        if (row !== undefined && row.removedAtMs === undefined) {
          throw new LogError({ code: 'already there', id: item.id })
        }
        await putItem(tx, item)
        return item
      })
    },

    async get(id) {
      const row = await db.read(['kit'], (tx) => tx.objectStore('kit').get(id))
      return row === undefined || row.removedAtMs !== undefined ? undefined : soundItem(row)
    },

    async list(kind) {
      const rows = await db.read(['kit'], (tx) => tx.objectStore('kit').getAll())
      const items: KitItem[] = []
      const damaged: Damage[] = []
      for (const row of rows) {
        if (row.removedAtMs !== undefined) continue
        const item = kitItemOf(row)
        if ('where' in item) damaged.push(item)
        else if (kind === undefined || item.kind === kind) items.push(item)
      }
      items.sort((a, b) => msOf(b.date) - msOf(a.date) || (a.id < b.id ? -1 : 1))
      return { items, damaged }
    },

    async change(id, changes) {
      const parsed = v.safeParse(kitChanges, changes)
      if (!parsed.success) {
        throw new LogError({ code: 'not a kit item', where: issueText(parsed.issues) })
      }
      return write(async (tx) => {
        const row = await tx.objectStore('kit').get(id)
        if (row === undefined || row.removedAtMs !== undefined) {
          throw new LogError({ code: 'not found', id })
        }
        const item = checked({ ...soundItem(row), ...parsed.output })
        await putItem(tx, item)
        return item
      })
    },

    remove: (ids) =>
      write(async (tx) => {
        const removed: string[] = []
        for (const id of ids) {
          const row = await tx.objectStore('kit').get(id)
          if (row === undefined || row.removedAtMs !== undefined) continue
          const { change: _, ...rest } = row
          await tx.objectStore('kit').put({ ...rest, removedAtMs: now().getTime() })
          removed.push(id)
        }
        return { ids: removed }
      }),

    restore: (undo) =>
      write(async (tx) => {
        for (const id of undo.ids) {
          const row = await tx.objectStore('kit').get(id)
          if (row?.removedAtMs === undefined) continue
          const { removedAtMs: _, ...rest } = row
          await tx.objectStore('kit').put({ ...rest, change: await nextChange(tx) })
        }
      }),
  }
}

/** Writes an item with the number of its change, in a transaction over kit and state. */
export async function putItem(tx: WriteTransaction<'kit' | 'state'>, item: KitItem): Promise<void> {
  const row: KitRow = dueForBackup(item)
    ? { id: item.id, item, change: await nextChange(tx) }
    : { id: item.id, item }
  await tx.objectStore('kit').put(row)
}

async function nextChange(tx: WriteTransaction<'kit' | 'state'>): Promise<number> {
  const state = ((await tx.objectStore('state').get(STATE_KEY)) as State | undefined) ?? NEW_STATE
  const change = state.change + 1
  await tx.objectStore('state').put({ ...state, change }, STATE_KEY)
  return change
}

function soundItem(row: KitRow): KitItem {
  const item = kitItemOf(row)
  if ('where' in item) throw new LogError({ code: 'damaged', id: row.id, where: item.where })
  return item
}

function checked(value: unknown): KitItem {
  const parsed = v.safeParse(kitItem, value)
  if (!parsed.success) {
    throw new LogError({ code: 'not a kit item', where: issueText(parsed.issues) })
  }
  return parsed.output
}
