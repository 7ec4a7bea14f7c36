/** What a file holds that is read into the log, and what became of it. */
import type { Summary, Work } from './types.ts'

/** What a file would bring; nothing has changed yet. */
export interface ImportPreview {
  readonly readings: ImportCounts
  readonly kit: ImportCounts
  /** Pictures that are not here yet. */
  readonly pictures: number
  /** Recordings of heat over time that are not here yet; those that are here stay as they are. */
  readonly recordings: number
  /** Some of the readings here and in the file that differ, for the person to judge. */
  readonly examples: readonly { readonly here: Summary; readonly inFile: Summary }[]
  /**
   * All or nothing, by id. Where both differ, 'mine' keeps what is here; 'theirs' takes the file's
   * values and puts those from here into the reading's history. Rejects with the signal's reason
   * when stopped; the log is then as it was.
   */
  merge(options: { conflicts: 'mine' | 'theirs' } & Work): Promise<ImportReport>
  discard(): Promise<void>
}

export interface ImportCounts {
  readonly new: number
  readonly same: number
  readonly conflicting: number
  /** Same id, but another measured reading: never merged, what is here stays. */
  readonly foreign: number
}

export interface ImportReport {
  readonly added: number
  readonly changed: number
  readonly kept: number
  readonly pictures: number
}
