/** Changes of the database as the journal keeps them. */

/** The stores whose content cannot be made again from others. */
export const KEPT_STORES = ['readings', 'inputs', 'pictures', 'kit', 'settings', 'state'] as const
export type KeptStore = (typeof KEPT_STORES)[number]

/**
 * `[store, key, value]` puts, `[store, key]` deletes, `[store]` clears. The value of a picture is its
 * row without the bytes: these lie in a file of their own.
 */
export type Change =
  | readonly [KeptStore, IDBValidKey, unknown]
  | readonly [KeptStore, IDBValidKey]
  | readonly [KeptStore]

/**
 * Changes one after another, brought down to what is left of them: what came first and was written
 * over since is gone. Clearing stands before what came after it.
 */
export function leftOf(changes: Iterable<Change>): Change[] {
  const byStore = new Map<KeptStore, { cleared: boolean; rows: Map<IDBValidKey, Change> }>()
  for (const change of changes) {
    const [store, key] = change
    const here = byStore.get(store) ?? { cleared: false, rows: new Map() }
    byStore.set(store, here)
    if (key === undefined) {
      here.cleared = true
      here.rows.clear()
    } else here.rows.set(key, change)
  }
  return [...byStore].flatMap(([store, { cleared, rows }]) => [
    ...(cleared ? [[store] as const] : []),
    ...rows.values(),
  ])
}
