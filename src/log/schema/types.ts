/**
 * What the log offers to the screens. The shapes of what is kept stand in reading-schema.ts and
 * kit-schema.ts; this file says what can be done with them.
 * Every promise that says "saved" resolves when the transaction has completed on disk (durability
 * 'strict'), never before. Everything that can go wrong rejects with a {@link LogError}.
 */
import type { Filter } from '../index/filter.ts'
import type { Recordings } from '../recordings/types.ts'
import type { ImportPreview } from './import-preview.ts'
import type { Json } from './json-value.ts'
import type { KitChanges, KitItem, KitKind } from './kit-schema.ts'
import type { Changes, Method, PictureFacts, Reading, Result } from './reading-schema.ts'
import type { BackupMark, StorageStatus } from './storage-status.ts'

export type { Filter } from '../index/filter.ts'
export type { Json } from './json-value.ts'
export type { KitChanges, KitItem, KitKind } from './kit-schema.ts'
export type {
  BudgetEntry,
  Changes,
  Editable,
  Method,
  PictureFacts,
  Reading,
  Recomputation,
  Result,
} from './reading-schema.ts'

type ByTheLog = 'version' | 'id' | 'savedAt' | 'history' | 'recomputations' | 'picture' | 'demo'

/** A reading to be saved: what is left out is empty, null or false; `takenAt` is then now. */
export type NewReading = { readonly method: Method; readonly result: Result } & Partial<
  Omit<Reading, 'method' | 'result' | ByTheLog>
>

/** A small picture of the region. Metadata (place, time, device) is stripped before it is kept. */
export interface NewPicture {
  readonly blob: Blob
  readonly width: number
  readonly height: number
}

/** One line of the log: enough to list, filter, plot and average without the whole reading. */
export interface Summary {
  readonly id: string
  readonly takenAt: string
  readonly zone: string
  readonly takenAtMs: number
  readonly method: Method
  readonly simulated: boolean
  readonly demo: boolean
  /** Does not match its schema: no numbers here; open it for its raw text. */
  readonly damaged: boolean
  readonly kind: Result['kind']
  /** Temperature or upper bound, K; null without a number. */
  readonly temperatureK: number | null
  readonly standardUncertaintyK: number | null
  readonly expandedUncertaintyK: number | null
  readonly interval95K: readonly [number, number] | null
  readonly object: string
  readonly material: string
  readonly tags: readonly string[]
  readonly series: string | null
  /** The first 120 characters of the notes. */
  readonly notes: string
  readonly volts: number | null
  readonly watts: number | null
  readonly swatch: readonly [number, number, number] | null
  readonly hasPicture: boolean
  readonly edited: boolean
  readonly recomputed: boolean
  /** Of the result that counts. */
  readonly methodVersion: string
  /** By how much the last recomputation moved the figure, K; null without two figures. */
  readonly movedK: number | null
}

/** A reading that cannot be trusted as it lies in the database. Nothing is dropped or invented. */
export interface Damage {
  readonly id: string
  /** Path of the first field that is wrong, with what is wrong; for details, not for sentences. */
  readonly where: string
  /** What lies in the database, as JSON text, to be exported. */
  readonly raw: string
}

export type Stored =
  | { readonly state: 'sound'; readonly reading: Reading }
  | { readonly state: 'damaged'; readonly damage: Damage }

/** Readings that fit a filter, newest first, without loading them. Stays as it was when found. */
export interface LogView {
  readonly count: number
  /** Synchronous and cheap: for lists that scroll. */
  at(position: number): Summary
  ids(from?: number, to?: number): string[]
  /** Summaries of a selection or of all, for statistics and plots. */
  summaries(from?: number, to?: number): Summary[]
}

/** What the person has used so far, for pickers; most frequent first. */
export interface Vocabulary {
  readonly objects: readonly Term[]
  readonly materials: readonly Term[]
  readonly tags: readonly Term[]
}
export interface Term {
  readonly text: string
  readonly count: number
}

/** Brings back what one removal took, as long as it has not been purged. */
export interface Undo {
  readonly ids: readonly string[]
}

/** What happened to the log, in this tab or in another one. */
export type LogChange =
  | { readonly kind: 'readings'; readonly ids: readonly string[]; readonly elsewhere: boolean }
  /** So much changed that everything shown should be read again. */
  | { readonly kind: 'everything'; readonly elsewhere: boolean }
  | { readonly kind: 'kit'; readonly elsewhere: boolean }
  | { readonly kind: 'recordings'; readonly elsewhere: boolean }
  | { readonly kind: 'settings'; readonly elsewhere: boolean }
  /**
   * A newer version in another tab needs the database, or the browser has deleted it: this tab can no
   * longer save. Reload.
   */
  | { readonly kind: 'closed'; readonly code: 'closed' | 'database deleted' }

export type NewKitItem = Pick<KitItem, 'kind' | 'name' | 'data'> &
  Partial<Omit<KitItem, 'kind' | 'name' | 'data' | 'version' | 'id' | 'addedAt' | 'demo'>> & {
    /** An id that data refers to; made when left out. */
    readonly id?: string
  }

export interface Kit {
  add(item: NewKitItem): Promise<KitItem>
  get(id: string): Promise<KitItem | undefined>
  /** Newest first by date; damaged items are told apart. */
  list(kind?: KitKind): Promise<{ items: KitItem[]; damaged: Damage[] }>
  change(id: string, changes: KitChanges): Promise<KitItem>
  remove(ids: readonly string[]): Promise<Undo>
  restore(undo: Undo): Promise<void>
}

export interface Settings {
  get(name: string): Promise<Json | undefined>
  set(name: string, value: Json): Promise<void>
}

export interface Log {
  /** Resolves when it is on disk. */
  add(reading: NewReading, picture?: NewPicture): Promise<Reading>
  get(id: string): Promise<Stored | undefined>
  picture(id: string): Promise<Blob | undefined>
  /**
   * Sound readings of a selection without inputs and details (null): with their budgets, for
   * comparison and statistics.
   */
  heads(ids: readonly string[], work?: Work): Promise<Reading[]>

  /** The newest readings straight from the store: the first screen, before any index is loaded. */
  newest(count: number): Promise<Summary[]>
  count(): Promise<number>
  /** The first call loads the index of summaries, in slices that keep the screen responsive. */
  find(filter?: Filter): Promise<LogView>
  vocabulary(): Promise<Vocabulary>

  edit(id: string, changes: Changes): Promise<Reading>
  recompute(
    id: string,
    to: { result: Result; reason: string; inputs?: Json; details?: Json },
  ): Promise<Reading>

  /** Hidden at once, purged a day later. */
  remove(ids: readonly string[]): Promise<Undo>
  restore(undo: Undo): Promise<void>
  /** What can still be restored, newest removal first. */
  removed(): Promise<Summary[]>
  /** Everything gone for good: readings, pictures and what waits to be purged; kit on request. */
  empty(options?: { kit?: boolean }): Promise<void>
  /** Reads every record against its schema; damaged ones are listed so from then on. */
  check(options?: Work): Promise<Damage[]>

  readonly kit: Kit
  readonly recordings: Recordings
  readonly settings: Settings

  status(): Promise<StorageStatus>
  /** Asks the browser to keep the log; ask at a fitting moment (after the first saved reading). */
  requestPersistence(): Promise<boolean>
  markBackup(): Promise<BackupMark>
  /** The file of that mark has left the app. CSV is no backup: it cannot be read back. */
  backedUp(mark: BackupMark): Promise<void>
  /** The person has read that something is missing, or was restored. */
  dismissMissing(): void
  /** What the person has not read yet: that something is missing, or that all was restored. */
  lossUnread(): 'missing' | 'restored' | null

  /**
   * The log as a file, in chunks, in order of time: all of it, or the readings named. JSON and ZIP
   * also hold the kit when all is taken. Damaged readings are told to `onDamage` and left out: take
   * their raw text by {@link check}.
   */
  export(format: 'csv' | 'json' | 'zip' | 'kit', options?: ExportOptions): AsyncIterable<Uint8Array>
  /** Reads a JSON or ZIP file of this app without changing the log. Rejects with a RefusedFile. */
  readFile(file: Blob, options?: Work): Promise<ImportPreview>

  /** A made-up workshop, labelled as such, to look around in. */
  addDemo(): Promise<number>
  removeDemo(): Promise<number>

  /** Returns the way to stop listening. */
  subscribe(listener: (change: LogChange) => void): () => void
  close(): void
}

/** Files that are made out of a reading for other programs; an import leaves them alone. */
export interface FilesOfReadings {
  /** Whether a reading has any: asked of each, so it must be quick. */
  has(reading: Reading): boolean
  /** Its files; names without folders. */
  of(reading: Reading): Promise<readonly { readonly name: string; readonly bytes: Uint8Array }[]>
}

export interface ExportOptions extends Work {
  readonly ids?: readonly string[]
  /** Go into a ZIP, in the folder `maps`. */
  readonly maps?: FilesOfReadings
  readonly onDamage?: (damage: Damage) => void
}

/** Long work: how far it is, and a way to stop it. Stopping rejects with the signal's reason. */
export interface Work {
  readonly signal?: AbortSignal
  readonly progress?: (done: number, total: number) => void
}

/** For pictures on their way in or out. */
export interface StoredPicture {
  readonly facts: PictureFacts
  readonly bytes: Uint8Array
}
