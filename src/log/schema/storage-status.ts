/** How safe the log's storage is, as it is told to the person. */
import type { SecondCopy } from '../journal/journal.ts'

export interface StorageStatus {
  /** The browser has promised not to clear it by itself; null where it cannot be asked. */
  readonly persisted: boolean | null
  readonly usageBytes: number | null
  readonly quotaBytes: number | null
  /** Under 50 MB or under 10 % left. */
  readonly nearlyFull: boolean
  readonly lastBackup: Backup | null
  /** Measured readings and kit items added or changed, and recordings made, since the last backup. */
  readonly unsavedElsewhere: number
  /** Time for a gentle reminder: see backup.ts for the rule. */
  readonly remindBackup: boolean
  /** More than this was here before: the browser has cleared the storage. */
  readonly missing: Missing | null
  /** The database was lost or cut short, and made whole again from the second copy. */
  readonly restored: Restored | null
  readonly secondCopy: SecondCopy
  /** ISO 8601: the newest reading was saved then, which the clock says is still to come. */
  readonly clockBehind: string | null
  /** The disk is full: nothing is saved until there is room and the page is loaded again. */
  readonly stopped: boolean
}

export interface Restored {
  /** Readings that are there now. */
  readonly readings: number
  /** ISO 8601. */
  readonly at: string
}

export interface Backup {
  /** ISO 8601. */
  readonly at: string
  readonly readings: number
}

export interface Missing {
  /** 0: no reading, but what was changed last. */
  readonly readings: number
  /** ISO 8601: when they were last seen. */
  readonly lastSeen: string
}

/** Made when an export of everything begins; given back once the file has left the app. */
export interface BackupMark {
  readonly change: number
  readonly readings: number
  /** ISO 8601. */
  readonly at: string
}
