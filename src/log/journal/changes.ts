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

const PIECE = 8192

function base64(bytes: Uint8Array): string {
  let text = ''
  for (let at = 0; at < bytes.length; at += PIECE) {
    text += String.fromCharCode(...bytes.subarray(at, at + PIECE))
  }
  return btoa(text)
}
