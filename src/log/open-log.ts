import { type IndexKeeper, keepIndex } from './index/index-keeper.ts'
import { checkAll } from './schema/check.ts'
import { deviceZone } from './schema/moment.ts'
import type { Log } from './schema/types.ts'
import { newUuid } from './schema/uuid.ts'
import { openAnnouncer } from './store/announce.ts'
import type { Context } from './store/context.ts'
import { openDatabase } from './store/database.ts'
import { kitOf } from './store/kit.ts'
import { keepPresence, type MarkStorage } from './store/presence.ts'
import { readingsOf } from './store/readings.ts'
import { purge, removalOf } from './store/removal.ts'
import { settingsOf } from './store/settings.ts'
import { STATE_KEY, type State } from './store/state.ts'
import { statusOf } from './store/status.ts'

export interface LogOptions {
  /** Another tab holds an older version open: ask the person to close it; opening goes on by itself. */
  readonly onBlocked?: () => void
  /** How long an opening may stay blocked or unanswered before it is given up, ms. */
  readonly patienceMs?: number
  /** What tests replace: name, clock, zone, ids, storage. */
  readonly name?: string
  readonly now?: () => Date
  readonly zone?: () => string
  readonly newId?: () => string
  readonly storage?: Context['storage']
  readonly marks?: MarkStorage | null
}

/**
 * Opens the log of this browser. Rejects with a LogError: 'storage refused', 'storage full',
 * 'upgrade blocked', 'upgrade failed', 'version newer'.
 */
export async function openLog(options: LogOptions = {}): Promise<Log> {
  const {
    name = 'glowbook',
    now = () => new Date(),
    zone = deviceZone,
    newId = newUuid,
    storage = deviceStorage(),
    marks = deviceMarks(),
  } = options
  let index: IndexKeeper | undefined
  const announcer = openAnnouncer(name, async (message) => {
    if (message.kind === 'everything') index?.forget()
    if (message.kind === 'readings') {
      await index?.reload(message.blocks).catch(() => index?.forget())
    }
  })
  const db = await openDatabase({
    name,
    patienceMs: options.patienceMs ?? 15_000,
    onBlocked: options.onBlocked,
    onClosed: () => announcer.tell({ kind: 'closed' }),
    estimate: async () => storage?.estimate(),
  }).catch((error: unknown) => {
    announcer.close()
    throw error
  })
  index = keepIndex(db)
  const state = (await db.read(['state'], (tx) => tx.objectStore('state').get(STATE_KEY))) as
    | State
    | undefined
  const presence = keepPresence(marks, name, now, state?.listed ?? 0, !state?.nextSeq)
  const context: Context = { db, announcer, index, presence, now, zone, newId, storage }
  // What fails here is tried again at the next opening.
  purge(context).catch(() => {})

  return {
    ...readingsOf(context),
    ...removalOf(context),
    ...statusOf(context),
    kit: kitOf(context),
    settings: settingsOf(context),
    check: (work) => checkAll(context, work),
    async *take(format, taking) {
      const { take } = await import('./export/export-log.ts')
      yield* take(context, format, taking)
    },
    async readFile(file, work) {
      const { readFile } = await import('./import/read-file.ts')
      return readFile(context, file, work)
    },
    async addDemo() {
      const { addDemo } = await import('./demo/demo.ts')
      return addDemo(context)
    },
    subscribe: announcer.subscribe,
    close() {
      announcer.close()
      db.close()
    },
  }
}

function deviceStorage(): Context['storage'] {
  return typeof navigator === 'undefined' ? null : (navigator.storage ?? null)
}

function deviceMarks(): MarkStorage | null {
  try {
    return typeof localStorage === 'undefined' ? null : localStorage
  } catch {
    // Blocked by the person's settings.
    return null
  }
}
