/** What is needed of the Cache API, in memory. */
export function memoryCaches() {
  const kept = new Map<string, Map<string, Response>>()
  return {
    has: async (name: string) => kept.has(name),
    keys: async () => [...kept.keys()],
    delete: async (name: string) => kept.delete(name),
    async open(name: string) {
      const entries = kept.get(name) ?? new Map<string, Response>()
      kept.set(name, entries)
      return {
        put: async (at: string, what: Response) => void entries.set(at, what),
        match: async (at: string) => entries.get(at)?.clone(),
        delete: async (at: string) => entries.delete(at),
      }
    },
  }
}
