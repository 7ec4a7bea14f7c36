import { BLOCKS_VERSION } from './blocks.ts'

/** The log's counters, written in every transaction that changes it. */
export interface State {
  /** Sequence number of the next reading. */
  readonly nextSeq: number
  /** Counts every change that a backup should hold. */
  readonly change: number
  /** Readings that are listed (not removed). */
  readonly listed: number
  /** Blocks of another version are made again. */
  readonly blocksVersion: number
}

export const STATE_KEY = 'state'
export const BACKUP_KEY = 'backup'

export const NEW_STATE: State = {
  nextSeq: 0,
  change: 0,
  listed: 0,
  blocksVersion: BLOCKS_VERSION,
}

/** The last backup: what it was of. */
export interface BackupRecord {
  readonly at: string
  /** When it began: what came later is not in it. Not in records of earlier versions. */
  readonly markedAt?: string
  readonly change: number
  readonly readings: number
}
