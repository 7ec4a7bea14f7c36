import { type IndexKeeper, keepIndex } from './index/index-keeper.ts'
import { keeperInWorker } from './journal/calls.ts'
import type { Keeper } from './journal/keeper.ts'
import { startJournal } from './journal/start.ts'
import { laterRecordings } from './recordings/later.ts'
import { deviceZone } from './schema/moment.ts'
import type { Log } from './schema/types.ts'
import { newUuid } from './schema/uuid.ts'
import { openAnnouncer } from './store/announce.ts'
import type { Context } from './store/context.ts'
import { openDatabase } from './store/database.ts'
import { kitOf } from './store/kit.ts'
import { keepPresence, type MarkStorage, type Presence } from './store/presence.ts'
import { readingStore } from './store/readings.ts'
import { purge, removalOf } from './store/removal.ts'
import { settingsOf } from './store/settings.ts'
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
  /** The keeper of the journal; rejects where there is no place for one. */
  readonly journal?: (name: string) => Promise<Keeper>
}

/**
 * See Log.export: out of the journal alone, for when the database cannot be opened. A function of this
 * module, because the parts that it needs are here already.
 */
export async function* exportSecondCopy(
  now: () => Date,
  ...what: Parameters<Log['export']>
): AsyncGenerator<Uint8Array> {
  const { exportJournal } = await import('./journal/rescue.ts')
  yield* exportJournal(() => keeperInWorker('glowbook'), now, ...what)
}

/**
 * Opens the log of this browser. Rejects with a LogError: 'storage refused', 'storage unanswered',
 * 'storage full', 'upgrade blocked', 'upgrade failed', 'version newer'.
 */
export async function openLog(options: LogOptions = {}): Promise<Log> {
  const {
    name = 'glowbook',
    now = () => new Date(),
    zone = deviceZone,
    newId = newUuid,
    storage = deviceStorage(),
    marks = deviceMarks(),
    journal: openKeeper = keeperInWorker,
  } = options
  // Its worker starts while the database opens.
  const keeper = openKeeper(name)
  keeper.catch(() => {})
  let presence: Presence | undefined
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
    onClosed: (code) => announcer.tell({ kind: 'closed', code }),
    onWritten: (turn) => presence?.written(turn),
    estimate: async () => storage?.estimate(),
  }).catch((error: unknown) => {
    announcer.close()
    keeper.then((one) => one.close()).catch(() => {})
    throw error
  })
  index = keepIndex(db)
  const started = await startJournal(db, {
    keeper,
    now,
    newId,
    onRestored(listed, turn) {
      presence?.caughtUp({ listed, turn })
      index?.forget()
      announcer.announce({ kind: 'everything' })
      announcer.announce({ kind: 'kit' })
    },
    onFailed: () => announcer.announce({ kind: 'settings' }),
  })
  db.useJournal(started.journal)
  const secondCopy = async () => (await started.journal).copy()
  presence = keepPresence(marks, name, now, started)
  const context: Context = {
    db,
    announcer,
    index,
    presence,
    now,
    zone,
    newId,
    storage,
    secondCopy,
  }
  // What fails here is tried again at the next opening.
  purge(context).catch(() => {})

  return {
    ...readingStore(context),
    ...removalOf(context),
    ...statusOf(context),
    kit: kitOf(context),
    recordings: laterRecordings(async () => {
      const { recordingsOf } = await import('./recordings/recordings.ts')
      return recordingsOf(context)
    }),
    settings: settingsOf(context),
    async check(work) {
      const { checkAll } = await import('./schema/check.ts')
      return checkAll(context, work)
    },
    async *export(format, options) {
      const { exportLog } = await import('./export/export-log.ts')
      yield* exportLog(context, format, options)
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
      keeper.then((one) => one.close()).catch(() => {})
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
