import type { IndexKeeper } from '../index/index-keeper.ts'
import type { SecondCopy } from '../journal/journal.ts'
import type { Announcer } from './announce.ts'
import type { Database } from './database.ts'
import type { Presence } from './presence.ts'

/** What the parts of an open log share. */
export interface Context {
  readonly db: Database
  readonly announcer: Announcer
  readonly index: IndexKeeper
  readonly presence: Presence
  readonly now: () => Date
  readonly zone: () => string
  readonly newId: () => string
  readonly secondCopy: () => Promise<SecondCopy>
  readonly storage: Pick<StorageManager, 'persisted' | 'persist' | 'estimate'> | null
}
