/** At each start the database and its journal are compared, and the one that lacks something is mended. */

import { DATABASE_VERSION } from '../migrations/upgrade.ts'
import type { Database } from '../store/database.ts'
import { STATE_KEY, type State } from '../store/state.ts'
import { type Journal, journalInto, TURN_KEY, type TurnRow } from './journal.ts'
import type { JournalContent, Keeper } from './keeper.ts'

export interface StartedJournal {
  readonly turn: TurnRow
  readonly listed: number
  /** What the database had lost was put back, before anything else was read. */
  readonly restored: boolean | 'in part'
  readonly journal: Promise<Journal>
}

export interface JournalOptions {
  /** Rejects where the browser has no private file system. */
  readonly keeper: Promise<Keeper>
  readonly now: () => Date
  readonly newId: () => string
  /** The database was put right after it was opened: what was read of it is out of date. */
  readonly onRestored: (listed: number, turn: TurnRow) => void
  readonly onFailed: () => void
}

/** Hardly ever needed: it comes when it is. */
const restoring = () => import('./restore.ts')

/** An empty database waits for the journal; one that holds something is looked after meanwhile. */
export async function startJournal(
  db: Database,
  { keeper: opening, now, newId, onRestored, onFailed }: JournalOptions,
): Promise<StartedJournal> {
  const keeper = opening.catch(() => null)
  const { state, turn: stored } = await db.read(['state'], async (tx) => ({
    state: (await tx.objectStore('state').get(STATE_KEY)) as State | undefined,
    turn: (await tx.objectStore('state').get(TURN_KEY)) as TurnRow | undefined,
  }))
  // One that was never written may have been opened while the journal could not be read.
  const empty = !stored?.turn && !state?.nextSeq && !state?.change
  let turn = stored
  let listed = state?.listed ?? 0
  let restored: StartedJournal['restored'] = false
  let seen: JournalContent | null = null
  if (empty) {
    const kept = await keeper
    const found = (await kept?.look().catch(() => null)) ?? null
    if (kept && found && found.turn > 0 && found.version === DATABASE_VERSION) {
      const made = await (await restoring()).restoreFrom(
        db,
        kept,
        found.epoch,
        stored?.turn ?? null,
        found.turn,
      )
      turn = { epoch: found.epoch, turn: found.turn }
      listed = made?.listed ?? listed
      if (made !== null) restored = (found.whole && made.whole) || 'in part'
      seen = found
    }
  }
  // What was there before the journal counts as one turn: the first snapshot is then due.
  turn = await firstTurn(db, turn ?? { epoch: newId(), turn: empty ? 0 : 1 })

  const ready = async (): Promise<Journal> => {
    const setting = { version: DATABASE_VERSION, atMs: now().getTime() }
    const kept = await keeper
    if (kept === null) return journalInto(null, setting, onFailed)
    // Reading a long journal takes a second.
    const found = seen ?? (await kept.look())
    if (found?.epoch === turn.epoch && found.version === DATABASE_VERSION) {
      const here = await turnOf(db)
      if (found.turn > here.turn) {
        const made = await (await restoring()).restoreFrom(
          db,
          kept,
          turn.epoch,
          here.turn,
          found.turn,
        )
        if (made !== null) onRestored(made.listed, { epoch: turn.epoch, turn: found.turn })
      }
    }
    // A journal that has just made the log whole lacks nothing; that it is long can wait.
    if (restored !== true && snapshotDue(found, await turnOf(db), DATABASE_VERSION)) {
      // In its own time; what fails is tried again at the next start.
      import('./snapshot.ts')
        .then(({ takeSnapshot }) => takeSnapshot(db, kept, setting))
        .catch(() => {})
    }
    return journalInto(kept, setting, onFailed)
  }
  const journal = ready().catch(() => {
    onFailed()
    return journalInto(null, { version: DATABASE_VERSION, atMs: 0 }, onFailed)
  })
  return { turn, listed, restored, journal }
}

/** The database's turn; set where it has none, unless another tab was quicker. */
function firstTurn(db: Database, turn: TurnRow): Promise<TurnRow> {
  return db.writeUnrecorded(['state'], async (tx) => {
    const state = tx.objectStore('state')
    const here = (await state.get(TURN_KEY)) as TurnRow | undefined
    if (here === undefined) await state.put(turn, TURN_KEY)
    return here ?? turn
  })
}

const turnOf = (db: Database): Promise<TurnRow> =>
  db.read(['state'], async (tx) => (await tx.objectStore('state').get(TURN_KEY)) as TurnRow)

/** Appended records may take as much as the snapshot and this before they are brought together. */
const SLACK_BYTES = 4_000_000

/** Does the journal lack something, or has it grown too long? */
function snapshotDue(
  found: JournalContent | null,
  { epoch, turn }: TurnRow,
  version: number,
): boolean {
  if (found === null || found.epoch !== epoch) return turn > 0
  const grown = found.bytes > 2 * found.snapshotBytes + SLACK_BYTES
  return found.turn < turn || found.version !== version || !found.whole || grown
}
