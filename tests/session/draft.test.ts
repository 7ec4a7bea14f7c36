import { beforeEach, expect, test, vi } from 'vitest'
import { draftOf, draftRefused, NOTES } from '../../src/session/draft.ts'
import { memoryCaches } from './memory-caches.ts'

beforeEach(() => {
  vi.stubGlobal('navigator', {})
  vi.stubGlobal('caches', memoryCaches())
})

const photo = (name: string, truthK: number | null = null) => ({
  blob: new Blob([name]),
  name,
  truthK,
})

test('a photo comes back with its name, whatever it is called, and its truth', async () => {
  const draft = draftOf('work')
  await draft.storePhoto(photo('Esse, 2. Hitze – “rot”.jpg', 1173))
  const found = await draft.photo()
  expect(found).toMatchObject({ name: 'Esse, 2. Hitze – “rot”.jpg', truthK: 1173 })
  expect(await found?.blob.text()).toBe('Esse, 2. Hitze – “rot”.jpg')
  await draft.storePhoto(photo('real.jpg'))
  expect(await draft.photo()).toMatchObject({ name: 'real.jpg', truthK: null })
})

test('a raw file comes back beside its photo, and goes with the next one', async () => {
  const draft = draftOf('work')
  await draft.storePhoto({ ...photo('shot.jpg'), raw: new File(['as seen'], 'shot é.dng') })
  const found = await draft.photo()
  expect(found?.raw?.name).toBe('shot é.dng')
  expect(await found?.raw?.text()).toBe('as seen')
  await draft.storePhoto(photo('two.jpg'))
  expect((await draft.photo())?.raw).toBeUndefined()
})

test('what was said of a photo stays with it, and goes with the next one', async () => {
  const draft = draftOf('work')
  await draft.storePhoto(photo('one.jpg'))
  await draft.store(NOTES, { object: 'forge bar' })
  expect(await draft.find(NOTES)).toEqual({ object: 'forge bar' })
  await draft.storePhoto(photo('two.jpg'))
  expect(await draft.find(NOTES)).toBeUndefined()
})

test('what is discarded is gone, and the work of another screen is not', async () => {
  const [mine, other] = [draftOf('mine'), draftOf('other')]
  await mine.storePhoto(photo('mine.jpg'))
  await other.store(NOTES, { steps: 3 })
  await mine.discard()
  expect(await mine.photo()).toBeUndefined()
  expect(await other.find(NOTES)).toEqual({ steps: 3 })
})

test('what was said last is stored last, however long each takes', async () => {
  const slow = memoryCaches()
  const { open } = slow
  let opened = 0
  // The first opening takes longest.
  slow.open = async (name: string) => {
    await new Promise((resolve) => setTimeout(resolve, opened++ === 0 ? 20 : 0))
    return open.call(slow, name)
  }
  vi.stubGlobal('caches', slow)
  const draft = draftOf('work')
  void draft.store(NOTES, { balance: 'unknown' })
  void draft.store(NOTES, { balance: 'daylight' })
  // Reading waits for what is being written.
  expect(await draft.find(NOTES)).toEqual({ balance: 'daylight' })
  void draft.store(NOTES, { balance: 'shade' })
  await draft.discard()
  expect(await draft.find(NOTES)).toBeUndefined()
})

test('a photo that finds no room leaves none: its notes must not stand beside the former one', async () => {
  const draft = draftOf('work')
  await draft.storePhoto(photo('one.jpg'))
  const full = memoryCaches()
  const former = globalThis.caches
  vi.stubGlobal('caches', {
    ...full,
    has: (name: string) => former.has(name),
    open: async (name: string) => {
      const cache = await former.open(name)
      return {
        match: (key: string) => cache.match(key),
        delete: (key: string) => cache.delete(key),
        put: () => Promise.reject(new DOMException('full', 'QuotaExceededError')),
      }
    },
  })
  await draft.storePhoto(photo('two.jpg'))
  expect(await draft.photo()).toBeUndefined()
})

test('without storage nothing is kept and nothing fails', async () => {
  vi.stubGlobal('caches', { ...memoryCaches(), open: () => Promise.reject(new Error('refused')) })
  const draft = draftOf('work')
  await draft.storePhoto(photo('one.jpg'))
  expect(await draft.photo()).toBeUndefined()
  expect(await draft.find(NOTES)).toBeUndefined()
})

test('a photo that finds no room is told, until it finds it or is put away', async () => {
  const all = memoryCaches()
  let full = true
  vi.stubGlobal('caches', {
    ...all,
    async open(name: string) {
      const cache = await all.open(name)
      const put: typeof cache.put = async (at, what) => {
        if (full && at.endsWith('photo')) throw new DOMException('', 'QuotaExceededError')
        return cache.put(at, what)
      }
      return { ...cache, put }
    },
  })
  const draft = draftOf('work')
  await draft.storePhoto(photo('large.jpg'))
  await draft.store(NOTES, { object: 'forge bar' })
  expect(draftRefused.value).toBe(true)
  await draft.discard()
  expect(draftRefused.value).toBe(false)
  await draft.storePhoto(photo('large.jpg'))
  expect(draftRefused.value).toBe(true)
  full = false
  await draft.storePhoto(photo('large.jpg'))
  expect(draftRefused.value).toBe(false)
})

test('what has no room while the work is being put away is wanted no more', async () => {
  const all = memoryCaches()
  vi.stubGlobal('caches', {
    ...all,
    async open(name: string) {
      const put = async () => Promise.reject(new DOMException('', 'QuotaExceededError'))
      return { ...(await all.open(name)), put }
    },
  })
  const draft = draftOf('work')
  void draft.store(NOTES, { object: 'forge bar' })
  await draft.discard()
  expect(draftRefused.value).toBe(false)
})

test('without a store of the browser nothing is kept, and nothing is said to be refused', async () => {
  vi.stubGlobal('caches', undefined)
  Reflect.deleteProperty(globalThis, 'caches')
  const draft = draftOf('work')
  await draft.storePhoto(photo('one.jpg'))
  await draft.store(NOTES, { object: 'forge bar' })
  expect([await draft.photo(), await draft.find(NOTES)]).toEqual([undefined, undefined])
  await draft.discard()
  expect(draftRefused.value).toBe(false)
})
