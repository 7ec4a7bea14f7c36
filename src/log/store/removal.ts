/** Taking readings away: hidden at once, purged a day later, so that an undo survives a reload. */

import { idOfRow, type ReadingRow } from '../index/rows.ts'
import { summaryOfDamaged } from '../index/summary.ts'
import type { Log, Summary } from '../schema/types.ts'
import { change } from './changing.ts'
import type { Context } from './context.ts'
import { NEW_STATE, STATE_KEY, type State } from './state.ts'
import { slotOfRow } from './writing.ts'

const KEPT_MS = 24 * 3600 * 1000

type Removal = Pick<Log, 'remove' | 'restore' | 'removed' | 'empty' | 'removeDemo'>

export function removalOf(context: Context): Removal {
  const { db, index, announcer, presence, now } = context

  return {
    remove: (ids) =>
      change(context, async (writing) => {
        const removed: string[] = []
        for (const id of ids) {
          const row = await writing.row(id)
          if (row === undefined || row.removedAtMs !== undefined) continue
          await writing.remove(row, now().getTime())
          removed.push(id)
        }
        return { ids: removed, value: { ids: removed } }
      }),

    async restore(undo) {
      await change(context, async (writing) => {
        for (const id of undo.ids) {
          const row = await writing.row(id)
          if (row !== undefined) await writing.restore(row)
        }
        return { ids: undo.ids, value: undefined }
      })
    },

    removed() {
      return db.read(['readings'], async (tx) => {
        const rows = await tx.objectStore('readings').index('removed').getAll()
        return rows.reverse().map(summaryOfRemoved)
      })
    },

    async empty({ kit = false } = {}) {
      await db.write(['readings', 'inputs', 'pictures', 'blocks', 'state', 'kit'], async (tx) => {
        const stored = (await tx.objectStore('state').get(STATE_KEY)) as State | undefined
        // Sequence numbers go on, so that no other tab mistakes a new reading for an old one.
        const state: State = { ...(stored ?? NEW_STATE), listed: 0 }
        await Promise.all([
          tx.objectStore('readings').clear(),
          tx.objectStore('inputs').clear(),
          tx.objectStore('pictures').clear(),
          tx.objectStore('blocks').clear(),
          kit ? tx.objectStore('kit').clear() : undefined,
          tx.objectStore('state').put(state, STATE_KEY),
        ])
      })
      presence.note(0)
      index.forget()
      announcer.announce({ kind: 'everything' })
      if (kit) announcer.announce({ kind: 'kit' })
    },

    async removeDemo() {
      const view = (await index.load()).find({ demo: true })
      const ids = view.ids()
      await change(context, async (writing) => {
        for (const id of ids) {
          const row = await writing.row(id)
          if (row !== undefined) await writing.purge(row)
        }
        return { ids, value: undefined }
      })
      await removeDemoKit(context)
      return ids.length
    },
  }
}

function summaryOfRemoved({ removedAtMs: _, ...row }: ReadingRow): Summary {
  return slotOfRow(row)?.summary ?? summaryOfDamaged(idOfRow(row), 0)
}

async function removeDemoKit({ db, announcer }: Context): Promise<void> {
  const removed = await db.write(['kit'], async (tx) => {
    const rows = await tx.objectStore('kit').getAll()
    const demo = rows.filter(({ item }) => (item as { demo?: unknown } | null)?.demo === true)
    await Promise.all(demo.map((row) => tx.objectStore('kit').delete(row.id)))
    return demo.length
  })
  if (removed > 0) announcer.announce({ kind: 'kit' })
}

/** Deletes for good what was removed, or left over, more than a day ago. For the time after opening. */
export async function purge(context: Context): Promise<void> {
  const until = IDBKeyRange.upperBound(context.now().getTime() - KEPT_MS)
  const due = await context.db.read(['readings', 'kit'], async (tx) => ({
    readings: await tx.objectStore('readings').index('removed').getAll(until),
    kit: await tx.objectStore('kit').index('removed').getAllKeys(until),
  }))
  if (due.readings.length > 0) {
    await change(context, async (writing) => {
      for (const { id } of due.readings) {
        // Another tab may have restored it meanwhile.
        const row = await writing.row(id)
        if (row?.removedAtMs !== undefined) await writing.purge(row)
      }
      return { ids: [], value: undefined }
    })
  }
  if (due.kit.length > 0) {
    await context.db.write(['kit'], async (tx) => {
      for (const id of due.kit) {
        const row = await tx.objectStore('kit').get(id)
        if (row?.removedAtMs !== undefined) await tx.objectStore('kit').delete(id)
      }
    })
  }
  const removed = await context.db.read(['recordings'], (tx) =>
    tx.objectStore('recordings').index('removed').count(until),
  )
  if (removed > 0) {
    const { purgeRecordings } = await import('../recordings/recordings.ts')
    await purgeRecordings(context, context.now().getTime() - KEPT_MS)
  }
  await clearLeftovers(context, context.now().getTime() - KEPT_MS)
}

/** What an import that never came to its end had set aside; another tab's import is younger. */
async function clearLeftovers({ db }: Context, untilMs: number): Promise<void> {
  await db.write(['incoming'], async (tx) => {
    let cursor = await tx.objectStore('incoming').openCursor()
    while (cursor !== null && cursor.value.atMs <= untilMs) {
      await cursor.delete()
      cursor = await cursor.continue()
    }
  })
}
