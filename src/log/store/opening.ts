/** Opening the database within a limit of time; an opening that was given up is taken over. */
import type { IDBPDatabase } from 'idb'
import { openDB } from 'idb'
import { DATABASE_VERSION, upgrade } from '../migrations/upgrade.ts'
import type { Upgrade } from '../migrations/version-2.ts'
import { LogError } from '../schema/errors.ts'
import type { Book, DatabaseOptions } from './database.ts'
import { openingError } from './storage-errors.ts'

interface Happenings {
  readonly onVersionChange: (db: { close(): void }, deleting: boolean) => void
  readonly onDropped: () => void
}

/** An opening that is under way; browsers cannot take one back. */
interface Attempt {
  readonly result: Promise<IDBPDatabase<Book>>
  blocked: boolean
  /** Whoever waits for it now; nobody after it was given up. */
  waiting: (Happenings & { readonly onBlocked?: (() => void) | undefined }) | null
}

/**
 * Openings that were given up. The browser answers openings of one database in turn: a second one
 * would stand behind the first and not even hear that it is blocked. So it takes the first one over.
 */
const givenUp = new Map<string, Attempt>()

export function openWithin(options: DatabaseOptions, on: Happenings): Promise<IDBPDatabase<Book>> {
  const { name, patienceMs, onBlocked } = options
  const attempt = givenUp.get(name) ?? begin(name)
  givenUp.delete(name)
  attempt.waiting = { ...on, onBlocked }
  if (attempt.blocked) onBlocked?.()
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => {
      attempt.waiting = null
      givenUp.set(name, attempt)
      reject(
        new LogError(
          attempt.blocked
            ? { code: 'upgrade blocked' }
            : { code: 'storage unanswered', detail: 'no answer to opening' },
        ),
      )
    }, patienceMs)
    attempt.result.then(resolve, reject).finally(() => clearTimeout(timer))
  })
}

function begin(name: string): Attempt {
  let upgradeError: unknown
  const start = async () => {
    if (typeof indexedDB === 'undefined') throw new Error('no indexedDB')
    return openDB<Book>(name, DATABASE_VERSION, {
      upgrade: async (db, from, _to, tx) => {
        // Its failure is told by the opening itself.
        tx.done.catch(() => {})
        try {
          await upgrade(db as unknown as IDBPDatabase<unknown>, from, tx as unknown as Upgrade)
        } catch (error) {
          upgradeError = error
          try {
            tx.abort()
          } catch {
            // The failure itself has aborted it.
          }
        }
      },
      blocked() {
        attempt.blocked = true
        attempt.waiting?.onBlocked?.()
      },
      blocking: (_current, next, event) =>
        attempt.waiting?.onVersionChange(event.target as unknown as IDBDatabase, next === null),
      terminated: () => attempt.waiting?.onDropped(),
    })
  }
  const attempt: Attempt = {
    blocked: false,
    waiting: null,
    result: start().then(
      (db) => {
        // Nobody waits any more; an open connection would block others.
        if (attempt.waiting === null) {
          givenUp.delete(name)
          db.close()
        }
        return db
      },
      (error: unknown) => {
        givenUp.delete(name)
        throw openingError(upgradeError ?? error, upgradeError !== undefined)
      },
    ),
  }
  // Told to whoever waits; without anybody it must not count as unhandled.
  attempt.result.catch(() => {})
  return attempt
}
