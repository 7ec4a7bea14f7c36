/** Changes of the database as the journal keeps them. */

/** The stores whose content cannot be made again from others. */
export const JOURNALED_STORES = [
  'readings',
  'inputs',
  'pictures',
  'kit',
  'settings',
  'state',
  'recordings',
  'recordingChunks',
  'recordingDetails',
] as const
export type JournaledStore = (typeof JOURNALED_STORES)[number]

/**
 * `[store, key, value]` puts, `[store, key]` deletes, `[store, from, to, 'range']` deletes all keys from
 * one to another, both included, `[store]` clears. The value of a picture is its row, the bytes in it
 * or in a file of their own.
 */
export type Change =
  | readonly [JournaledStore, IDBValidKey, unknown]
  | readonly [JournaledStore, IDBValidKey, IDBValidKey, 'range']
  | readonly [JournaledStore, IDBValidKey]
  | readonly [JournaledStore]

/** As JSON, with bytes in base 64. */
export function textOfChanges(changes: readonly Change[]): string {
  return JSON.stringify(changes, (_name, value: unknown) => {
    if (value instanceof ArrayBuffer) return { $bytes: base64(new Uint8Array(value)) }
    return value instanceof Uint8Array ? { $bytes: base64(value) } : value
  })
}

export function changesOfText(text: string): Change[] {
  if (!text.includes('"$bytes"')) return JSON.parse(text) as Change[]
  return JSON.parse(text, (_name, value: unknown) => {
    const bytes = (value as { $bytes?: unknown } | null)?.$bytes
    return typeof bytes === 'string' ? bytesOf(bytes) : value
  }) as Change[]
}

const PIECE = 8192

function base64(bytes: Uint8Array): string {
  let text = ''
  for (let at = 0; at < bytes.length; at += PIECE) {
    text += String.fromCharCode(...bytes.subarray(at, at + PIECE))
  }
  return btoa(text)
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
