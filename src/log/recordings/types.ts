import type { Json } from '../schema/json-value.ts'
import type { Damage, Undo } from '../schema/types.ts'
import type { RecordingColumns } from './columns.ts'
import type { RecordingChanges, RecordingHead } from './recording-schema.ts'

/** What is said of a recording when it begins. */
export type NewRecording = Pick<
  RecordingHead,
  'source' | 'simulated' | 'startedAt' | 'cameraId' | 'methodVersion'
> &
  Partial<Pick<RecordingHead, 'object' | 'material' | 'notes' | 'cover' | 'marks'>>

export interface StoredRecording {
  readonly head: RecordingHead
  readonly columns: RecordingColumns
  /** What the figures rest on, in the shape of those who wrote it; null where it was lost. */
  readonly details: Json
}

/** A recording under way: each promise resolves when it is on disk. */
export interface RecordingWriter {
  readonly id: string
  append(columns: RecordingColumns): Promise<void>
  /** What the figures rest on so far. */
  keepDetails(details: Json): Promise<void>
  keepMarks(marks: RecordingHead['marks']): Promise<void>
  /**
   * Its chunks become one; from then on it stands in the list.
   *
   * @param amend what only the whole shows: flags and uncertainties
   */
  end(
    how: 'by hand' | 'by limit',
    amend?: (columns: RecordingColumns) => RecordingColumns,
  ): Promise<RecordingHead>
}

export interface RecordingList {
  /** Newest first. */
  readonly items: readonly RecordingHead[]
  readonly damaged: readonly Damage[]
  /** Being written now, here or in another tab. */
  readonly running: number
}

export interface Recordings {
  begin(recording: NewRecording): Promise<RecordingWriter>
  /** A whole one at once. */
  add(recording: NewRecording, columns: RecordingColumns, details: Json): Promise<RecordingHead>
  /** One from a file of this app, as it was there. */
  put(head: RecordingHead, columns: RecordingColumns, details: Json): Promise<void>
  list(): Promise<RecordingList>
  get(id: string): Promise<StoredRecording | undefined>
  change(id: string, changes: RecordingChanges): Promise<RecordingHead>
  /** Hidden at once, purged a day later. */
  remove(ids: readonly string[]): Promise<Undo>
  restore(undo: Undo): Promise<void>
}
