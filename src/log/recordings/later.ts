import type { Recordings } from './types.ts'

/** Recordings whose code comes with the first question: not everybody's first visit pays for it. */
export function laterRecordings(load: () => Promise<Recordings>): Recordings {
  let loaded: Promise<Recordings> | undefined
  const get = (): Promise<Recordings> => {
    loaded ??= load().catch((error: unknown) => {
      loaded = undefined
      throw error
    })
    return loaded
  }
  return {
    begin: async (recording) => (await get()).begin(recording),
    add: async (recording, columns, details) => (await get()).add(recording, columns, details),
    put: async (head, columns, details) => (await get()).put(head, columns, details),
    list: async () => (await get()).list(),
    get: async (id) => (await get()).get(id),
    change: async (id, changes) => (await get()).change(id, changes),
    remove: async (ids) => (await get()).remove(ids),
    restore: async (undo) => (await get()).restore(undo),
  }
}
