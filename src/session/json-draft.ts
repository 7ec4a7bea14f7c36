/**
 * Plain JSON that is being worked on, kept across a reload: an update, a phone that ran out of
 * memory, a tab closed by mistake. The Cache API holds it, one entry a name; no schema to migrate.
 */
export interface JsonDraft {
  /** Failures are silent: only a reload would lose it. */
  keep(name: string, value: unknown): Promise<void>
  /** What was kept under a name; undefined when nothing was. */
  find(name: string): Promise<unknown>
  empty(): Promise<void>
}

const available = () => 'caches' in globalThis
const addressOf = (name: string) => `/in-hand/${encodeURIComponent(name)}`

/** @param cacheName each screen has one of its own */
export function jsonDraftOf(cacheName: string): JsonDraft {
  return {
    async keep(name, value) {
      if (!available()) return
      try {
        const cache = await caches.open(cacheName)
        await cache.put(addressOf(name), new Response(JSON.stringify(value)))
      } catch {
        // Full or refused storage: see above.
      }
    },

    async find(name) {
      if (!available() || !(await caches.has(cacheName))) return undefined
      try {
        const found = await (await caches.open(cacheName)).match(addressOf(name))
        return found ? await found.json() : undefined
      } catch {
        return undefined
      }
    },

    async empty() {
      if (available()) await caches.delete(cacheName).catch(() => false)
    },
  }
}

export const spectrumJsonDraft = jsonDraftOf('spectrum-in-hand')
