import { LogError } from './errors.ts'
import type { Log } from './types.ts'

export interface LogOptions {
  /** Another tab holds an older version open: ask the person to close it; opening goes on by itself. */
  readonly onBlocked?: () => void
  /** How long an opening may stay blocked or unanswered before it is given up, ms. */
  readonly patienceMs?: number
  /** What tests replace: clock, zone, ids, storage. */
  readonly name?: string
  readonly now?: () => Date
  readonly zone?: () => string
  readonly newId?: () => string
  readonly storage?: Pick<StorageManager, 'persisted' | 'persist' | 'estimate'> | null
}

/** Opens the log of this browser. */
export async function openLog(_options: LogOptions = {}): Promise<Log> {
  throw new LogError({ code: 'storage failed', detail: 'not there yet' })
}
