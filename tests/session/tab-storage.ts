import { vi } from 'vitest'

/** The storage of one tab, which tests read beside what fills it. */
export function tabStorage(): Map<string, string> {
  const kept = new Map<string, string>()
  vi.stubGlobal('sessionStorage', {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => kept.set(key, value),
    removeItem: (key: string) => kept.delete(key),
  })
  return kept
}
