/** What can go wrong with the log. The sentences stand in src/ui/words/log-errors.ts. */
export type LogFailure =
  /** No storage in this browser, or not in this (private) window. */
  | { readonly code: 'storage refused'; readonly detail: string }
  /** The browser could not open the log this time: it gave no answer, or its disk is full or busy. */
  | { readonly code: 'storage unanswered'; readonly detail: string }
  /** The disk or the browser's share of it is full. Nothing of this change was kept. */
  | {
      readonly code: 'storage full'
      readonly usageBytes: number | null
      readonly quotaBytes: number | null
    }
  /** Another tab holds an older version of the database open. */
  | { readonly code: 'upgrade blocked' }
  /** A newer version of the app has written this database. */
  | { readonly code: 'version newer' }
  /** The upgrade of former readings failed; they are as they were. */
  | { readonly code: 'upgrade failed'; readonly detail: string }
  /** This tab's connection was closed for another tab's upgrade, or by close(). */
  | { readonly code: 'closed' }
  /** The browser has deleted the database while this tab had it open. */
  | { readonly code: 'database deleted' }
  /** What was to be saved does not have the right shape: a mistake of the program. */
  | { readonly code: 'not a reading'; readonly where: string }
  | { readonly code: 'not a kit item'; readonly where: string }
  | { readonly code: 'not a recording'; readonly where: string }
  | { readonly code: 'not a picture'; readonly detail: string }
  | { readonly code: 'not found'; readonly id: string }
  | { readonly code: 'already there'; readonly id: string }
  /** The reading is damaged and cannot be edited; its raw text can be exported. */
  | { readonly code: 'damaged'; readonly id: string; readonly where: string }
  /** A measured value cannot be edited. */
  | { readonly code: 'measured, not editable'; readonly id: string }
  /** The database answered with something unexpected. */
  | { readonly code: 'storage failed'; readonly detail: string }

export class LogError extends Error {
  override readonly name = 'LogError'
  constructor(
    readonly failure: LogFailure,
    options?: ErrorOptions,
  ) {
    super(`log: ${failure.code}`, options)
  }
  get code(): LogFailure['code'] {
    return this.failure.code
  }
}
