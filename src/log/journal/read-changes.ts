/** Changes read back out of the journal. */
import { type Change, JOURNALED_STORES, type JournaledStore } from './changes.ts'

/** Where a row of a store names its key; null: it stands beside the row. */
export const KEY_PATHS: Record<JournaledStore, readonly string[] | null> = {
  readings: ['seq'],
  inputs: null,
  pictures: ['id'],
  kit: ['id'],
  settings: null,
  state: null,
  recordings: ['id'],
  recordingChunks: ['id', 'number'],
  recordingDetails: ['id'],
}

/** The changes of a text that a database would take; the others are left out, and `whole` is false. */
export function changesOfText(text: string): { changes: Change[]; whole: boolean } {
  const all = parsed(text)
  const changes = all?.filter(isChange) ?? []
  return { changes, whole: changes.length === all?.length }
}

function parsed(text: string): unknown[] | null {
  try {
    const all: unknown = text.includes('"$bytes"') ? JSON.parse(text, withBytes) : JSON.parse(text)
    return Array.isArray(all) ? all : null
  } catch {
    return null
  }
}

function withBytes(_name: string, value: unknown): unknown {
  const bytes = (value as { $bytes?: unknown } | null)?.$bytes
  return typeof bytes === 'string' ? bytesOf(bytes) : value
}

/** One that a database refused would keep all others from being put back. */
function isChange(value: unknown): value is Change {
  if (!Array.isArray(value) || value.length < 1 || value.length > 4) return false
  const [store, key, row, range] = value as [JournaledStore, unknown, unknown, unknown]
  if (!JOURNALED_STORES.includes(store)) return false
  if (value.length > 1 && !isKey(key)) return false
  if (value.length === 4) return range === 'range' && isKey(row) && compare(key, row) <= 0
  const path = KEY_PATHS[store]
  if (value.length < 3 || path === null) return true
  if (typeof row !== 'object' || row === null) return false
  const named = path.map((name) => (row as Record<string, unknown>)[name])
  const own = named.length === 1 ? named[0] : named
  return isKey(own) && compare(own, key) === 0
}

const compare = (a: unknown, b: unknown) => indexedDB.cmp(a, b)

function isKey(value: unknown): boolean {
  if (typeof value === 'string') return true
  try {
    return compare(value, value) === 0
  } catch {
    return false
  }
}

const bytesOf = (text: string) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0))

/**
 * Changes one after another, brought down to what is left of them: what came first and was written
 * over since is gone. What deletes stands before what came after it.
 */
export function leftOf(changes: Iterable<Change>): Change[] {
  interface Left {
    dropped: Change[]
    readonly rows: Map<string, Change>
  }
  const byStore = new Map<JournaledStore, Left>()
  for (const change of changes) {
    const [store, key] = change
    const here: Left = byStore.get(store) ?? { dropped: [], rows: new Map() }
    byStore.set(store, here)
    if (key === undefined) {
      here.dropped = [change]
      here.rows.clear()
    } else if (change.length === 4) {
      here.dropped.push(change)
      for (const [name, [, at]] of here.rows) {
        if (indexedDB.cmp(at, key) >= 0 && indexedDB.cmp(at, change[2]) <= 0) here.rows.delete(name)
      }
    } else here.rows.set(JSON.stringify(key), change)
  }
  return [...byStore.values()].flatMap(({ dropped, rows }) => [...dropped, ...rows.values()])
}
