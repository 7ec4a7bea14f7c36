import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from 'idb'
import type { KitRow, PictureRow, ReadingRow } from '../index/rows.ts'
import { type Journal, TURN_KEY, type TurnRecord, type TurnRow } from '../journal/journal.ts'
import type { ChunkRow, DetailsRow, RecordingRow } from '../recordings/recording-rows.ts'
import { LogError } from '../schema/errors.ts'
import type { Json } from '../schema/json-value.ts'
import type { Block } from './blocks.ts'
import type { IncomingRow } from './incoming.ts'
import { openWithin } from './opening.ts'
import type { BackupRecord, State } from './state.ts'
import { asLogError, isDiskFull, storageFull } from './storage-errors.ts'

export interface Book extends DBSchema {
  readings: {
    key: number
    value: ReadingRow
    indexes: { id: string; listed: [number, number]; removed: number; change: number }
  }
  /** Inputs and details of readings, by sequence number. */
  inputs: { key: number; value: string }
  pictures: { key: string; value: PictureRow }
  blocks: { key: number; value: Block }
  kit: { key: string; value: KitRow; indexes: { removed: number; change: number } }
  settings: { key: string; value: Json }
  state: { key: string; value: State | BackupRecord | TurnRow }
  incoming: { key: number; value: IncomingRow }
  recordings: { key: string; value: RecordingRow; indexes: { removed: number } }
  recordingChunks: { key: [id: string, number: number]; value: ChunkRow }
  recordingDetails: { key: string; value: DetailsRow }
}

export type Store = StoreNames<Book>
export type ReadTransaction<S extends Store> = IDBPTransaction<Book, S[], 'readonly'>
export type WriteTransaction<S extends Store> = IDBPTransaction<Book, S[], 'readwrite'>

/** One way to the database, opened again when the browser drops it. */
export interface Database {
  read<S extends Store, T>(
    stores: readonly S[],
    work: (tx: ReadTransaction<S>) => Promise<T>,
  ): Promise<T>
  /**
   * Resolves when the transaction is on disk and its changes are in the journal; when anything fails,
   * nothing of it is kept. Writing transactions of all tabs run one after another.
   */
  write<S extends Store, T>(
    stores: readonly S[],
    work: (tx: WriteTransaction<S>) => Promise<T>,
  ): Promise<T>
  /** For what comes out of the journal. */
  writeUnrecorded<S extends Store, T>(
    stores: readonly S[],
    work: (tx: WriteTransaction<S>) => Promise<T>,
  ): Promise<T>
  /** Writing waits for it. */
  useJournal(journal: Promise<Journal>): void
  /** The disk is full: nothing more is written until the page is loaded again. */
  stopped(): boolean
  close(): void
}

export interface DatabaseOptions {
  readonly name: string
  readonly patienceMs: number
  readonly onBlocked?: (() => void) | undefined
  /** This connection has been closed for another tab: it wants to upgrade, or to delete all. */
  readonly onClosed: (code: 'closed' | 'database deleted') => void
  readonly onWritten: (turn: TurnRow) => void
  readonly estimate: () => Promise<StorageEstimate | undefined>
}

export async function openDatabase(options: DatabaseOptions): Promise<Database> {
  let closed: 'closed' | 'database deleted' | null = null
  let stopped = false
  let opening: Promise<IDBPDatabase<Book>> | undefined
  let journal: Promise<Journal> | undefined
  /** Its first turn was set: from then on a database without one is another. */
  let used = false
  let connection: IDBPDatabase<Book> | undefined

  async function connect(): Promise<IDBPDatabase<Book>> {
    if (closed) throw new LogError({ code: closed })
    if (connection !== undefined) return connection
    opening ??= reach().finally(() => {
      opening = undefined
    })
    return opening
  }

  async function reach(): Promise<IDBPDatabase<Book>> {
    // A browser that opens a database on a full disk may take it for broken, and begin an empty one.
    if (stopped) throw await storageFull(options.estimate)
    const opened = await openWithin(options, {
      onVersionChange(db, deleting) {
        // Standing in the way of an upgrade would leave both tabs without a log.
        closed = deleting ? 'database deleted' : 'closed'
        connection = undefined
        db.close()
        options.onClosed(closed)
      },
      onDropped() {
        connection = undefined
        // At once: a database that is gone must not pass for an empty log.
        connect().catch(() => {})
      },
    })
    if (used && !(await isSame(opened))) {
      closed = 'database deleted'
      opened.close()
      options.onClosed(closed)
      throw new LogError({ code: closed })
    }
    connection = opened
    return opened
  }

  async function beginTransaction<S extends Store, M extends 'readonly' | 'readwrite'>(
    stores: readonly S[],
    mode: M,
  ): Promise<IDBPTransaction<Book, S[], M>> {
    const strict = { durability: 'strict' } as const
    try {
      return (await connect()).transaction([...stores], mode, strict)
    } catch (error) {
      // A connection that the browser closed without a word: once more with a new one.
      if (!(error instanceof DOMException) || error.name !== 'InvalidStateError') throw error
      connection = undefined
      return (await connect()).transaction([...stores], mode, strict)
    }
  }

  async function run<S extends Store, M extends 'readonly' | 'readwrite', T>(
    stores: readonly S[],
    mode: M,
    work: (tx: IDBPTransaction<Book, S[], M>) => Promise<T>,
  ): Promise<T> {
    let tx: IDBPTransaction<Book, S[], M> | undefined
    try {
      tx = await beginTransaction(stores, mode)
      // Handled here, so that an abort is no unhandled rejection while the work still runs.
      tx.done.catch(() => {})
      const value = await work(tx)
      await tx.done
      return value
    } catch (error) {
      try {
        tx?.abort()
      } catch {
        // It had ended already.
      }
      await tx?.done.catch(() => {})
      const reason = tx?.error ?? error
      if (mode === 'readwrite' && isDiskFull(reason)) stopped = true
      // The browser has dropped the connection as well.
      if (stopped) throw await storageFull(options.estimate, reason)
      throw await asLogError(reason, options.estimate)
    }
  }

  async function write<S extends Store, T>(
    stores: readonly S[],
    work: (tx: WriteTransaction<S>) => Promise<T>,
  ): Promise<T> {
    if (stopped) throw await storageFull(options.estimate)
    const into = await journal
    let recording: TurnRecord | undefined
    let journaled: Promise<unknown> | undefined
    let turn: TurnRow | undefined
    try {
      // All write into `state`, so that they run one after another, in all tabs: browsers have lost
      // whole databases when killed while two wrote side by side.
      const value = await run(withState(stores), 'readwrite', async (tx) => {
        const state = stateOf(tx)
        const last = (await state.get(TURN_KEY)) as TurnRow | undefined
        if (into === undefined || last === undefined)
          throw new LogError({ code: 'database deleted' })
        const mine = { epoch: last.epoch, turn: last.turn + 1 }
        recording = into.record(mine)
        const done = await work(recording.over(tx) as unknown as WriteTransaction<S>)
        if (!recording.changed) return done
        await state.put(mine, TURN_KEY)
        turn = mine
        // Both copies on their way to the disk at once; the save has to wait for the slower one.
        journaled = recording.end()
        return done
      })
      await haltWhenFull(await journaled)
      if (turn !== undefined) options.onWritten(turn)
      return value
    } catch (error) {
      recording?.abort()
      await haltWhenFull(await journaled)
      throw error
    }
  }

  /**
   * A disk without room for the journal has none for the database either: browsers confirm a write
   * then that is gone at the next start.
   */
  async function haltWhenFull(failure: unknown): Promise<void> {
    if (!isDiskFull(failure)) return
    stopped = true
    throw await storageFull(options.estimate, failure)
  }

  await connect()
  return {
    read: (stores, work) => run(stores, 'readonly', work),
    write,
    writeUnrecorded: (stores, work) => run(withState(stores), 'readwrite', work),
    useJournal(ready) {
      journal = ready
      used = true
    },
    stopped: () => stopped,
    close() {
      closed = 'closed'
      connection?.close()
      connection = undefined
    },
  }
}

/** Is it the database that was opened at first, not an empty one in its place? */
async function isSame(db: IDBPDatabase<Book>): Promise<boolean> {
  return (await db.get('state', TURN_KEY)) !== undefined
}

const withState = <S extends Store>(stores: readonly S[]): S[] =>
  [...new Set<Store>([...stores, 'state'])] as S[]

/** The counters' store, which every writing transaction spans. */
const stateOf = (tx: unknown) => (tx as WriteTransaction<'state'>).objectStore('state')
