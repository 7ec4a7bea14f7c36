import { beforeEach, describe, expect, test, vi } from 'vitest'
import { memoryCaches } from './memory-caches.ts'

let pages = 0
/** A page that has just been loaded: each has the module anew, and nobody else's. */
async function loaded(): Promise<(base: string) => Promise<string>> {
  const module = new URL('../../src/session/tab.ts', import.meta.url).pathname
  const page: typeof import('../../src/session/tab.ts') = await import(
    /* @vite-ignore */ `${module}?page=${pages++}`
  )
  return page.nameInTab
}

/** Names that other tabs hold. */
const elsewhere = new Set<string>()
/** Names that this test's pages hold: let go when a page goes away. */
const here = new Set<string>()
const stored = new Map<string, string>()

beforeEach(() => {
  elsewhere.clear()
  here.clear()
  stored.clear()
  vi.stubGlobal('caches', memoryCaches())
  vi.stubGlobal('sessionStorage', {
    getItem: (name: string) => stored.get(name) ?? null,
    setItem: (name: string, text: string) => void stored.set(name, text),
  })
  vi.stubGlobal('navigator', {
    locks: {
      async request(name: string, _: unknown, work: (lock: object | null) => unknown) {
        const free = !elsewhere.has(name) && !here.has(name)
        if (free) here.add(name)
        work(free ? {} : null)
      },
    },
  })
})
const reload = () => here.clear()

describe('what a tab keeps', () => {
  test('lies under plain names while there is but one tab, over a reload too', async () => {
    expect(await (await loaded())('draft')).toBe('draft')
    reload()
    expect(await (await loaded())('draft')).toBe('draft')
  })

  test('of a second tab lies under a name of its own, that it has again after a reload', async () => {
    elsewhere.add('glowbook.tab ')
    const first = await (await loaded())('draft')
    expect(first).toMatch(/^draft of tab \w+$/)
    reload()
    const nameInTab = await loaded()
    expect(await nameInTab('draft')).toBe(first)
    expect(await nameInTab('other')).toBe(first.replace('draft', 'other'))
  })

  test('of a tab that has gone is taken over by the next one', async () => {
    elsewhere.add('glowbook.tab ')
    await caches.open('draft of tab gone')
    expect(await (await loaded())('draft')).toBe('draft of tab gone')
  })

  test('of a tab that is still there is left alone', async () => {
    elsewhere.add('glowbook.tab ')
    elsewhere.add('glowbook.tab busy')
    await caches.open('draft of tab busy')
    expect(await (await loaded())('draft')).not.toBe('draft of tab busy')
  })

  test('lies under plain names where there are no locks, or they are refused', async () => {
    vi.stubGlobal('navigator', { locks: { request: () => Promise.reject(new Error('refused')) } })
    expect(await (await loaded())('draft')).toBe('draft')
    vi.stubGlobal('navigator', {})
    expect(await (await loaded())('draft')).toBe('draft')
  })
})
