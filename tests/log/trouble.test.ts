import { forceCloseDatabase } from 'fake-indexeddb'
import { afterEach, describe, expect, it, vi } from 'vitest'
import type { LogChange } from '../../src/log/schema/types.ts'
import { putDatabase, readFixture } from './fixture-database.ts'
import {
  closeTestLogs,
  contentOf,
  draft,
  failureOf,
  freshName,
  memoryMarks,
  openTestLog,
} from './opening.ts'

afterEach(() => {
  closeTestLogs()
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
})
/** Requests that write a reading fail as on a full disk: the request's error aborts the rest. */
function fullDisk() {
  const add = IDBObjectStore.prototype.add
  vi.spyOn(IDBObjectStore.prototype, 'add').mockImplementation(function (
    this: IDBObjectStore,
    ...args
  ) {
    if (this.name !== 'readings') return add.apply(this, args)
    throw new DOMException('The disk is full', 'QuotaExceededError')
  })
}

describe('a full disk', () => {
  const storage = {
    persisted: async () => true,
    persist: async () => true,
    estimate: async () => ({ usage: 990e6, quota: 1000e6 }),
  }

  it('is told with its figures, and nothing of the change is kept', async () => {
    const log = await openTestLog({ storage })
    await log.add(draft({ object: 'before' }))
    const before = await contentOf(log)
    fullDisk()
    expect(await failureOf(log.add(draft({ object: 'too much' })))).toEqual({
      code: 'storage full',
      usageBytes: 990e6,
      quotaBytes: 1000e6,
    })
    vi.restoreAllMocks()
    expect(await contentOf(log)).toBe(before)
    expect((await log.find()).count).toBe(1)
    await log.add(draft({ object: 'after' }))
    expect(await log.check()).toEqual([])
    expect(await log.count()).toBe(2)
  })

  it('is seen coming', async () => {
    const log = await openTestLog({ storage })
    expect(await log.status()).toMatchObject({ nearlyFull: true, persisted: true })
    const roomy = { ...storage, estimate: async () => ({ usage: 1e6, quota: 1e9 }) }
    expect(await (await openTestLog({ storage: roomy })).status()).toMatchObject({
      nearlyFull: false,
      usageBytes: 1e6,
      quotaBytes: 1e9,
    })
  })

  it('that shows only at the end of the transaction is told as well', async () => {
    const log = await openTestLog({ storage })
    const put = IDBObjectStore.prototype.put
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (
      this: IDBObjectStore,
      ...args
    ) {
      const request = put.apply(this, args)
      if (this.name === 'state') {
        // What a browser does when writing out fails: the transaction is aborted with that error.
        const tx = this.transaction
        request.addEventListener('success', () => {
          Object.defineProperty(tx, 'error', {
            value: new DOMException('full', 'QuotaExceededError'),
          })
          tx.abort()
        })
      }
      return request
    })
    expect(await failureOf(log.add(draft()))).toMatchObject({ code: 'storage full' })
    vi.restoreAllMocks()
    expect(await log.count()).toBe(0)
  })
})

describe('what is said to be saved', () => {
  it('is on the disk, not with the system only: every writing transaction is strict', async () => {
    const log = await openTestLog()
    const begun: unknown[][] = []
    const transaction = IDBDatabase.prototype.transaction
    vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(function (
      this: IDBDatabase,
      ...args
    ) {
      begun.push([args[1], args[2]?.durability])
      return transaction.apply(this, args)
    })
    const { id } = await log.add(draft())
    await log.edit(id, { notes: 'second heat' })
    await log.kit.add({ kind: 'lamp', name: 'Lamp', data: {} })
    await log.settings.set('unit', 'K')
    await log.remove([id])
    const writing = begun.filter(([mode]) => mode === 'readwrite')
    expect(writing.length).toBeGreaterThanOrEqual(5)
    expect(new Set(writing.map(([, durability]) => durability))).toEqual(new Set(['strict']))
  })
})

describe('storage that is refused', () => {
  it('is told when the browser has none', async () => {
    vi.stubGlobal('indexedDB', undefined)
    expect(await failureOf(openTestLog())).toEqual({
      code: 'storage refused',
      detail: 'Error: no indexedDB',
    })
  })

  it('is told when opening is not allowed', async () => {
    vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('private window', 'SecurityError')
    })
    expect(await failureOf(openTestLog())).toMatchObject({ code: 'storage refused' })
  })

  it('is told when opening gets no answer', async () => {
    vi.spyOn(indexedDB, 'open').mockImplementation(() => new IDBOpenDBRequest())
    expect(await failureOf(openTestLog({ patienceMs: 20 }))).toEqual({
      code: 'storage unanswered',
      detail: 'no answer to opening',
    })
  })

  it('for the moment, as on a full disk, is not told as forbidden', async () => {
    // Chromium's words on a disk without room.
    const told = 'Internal error opening backing store for indexedDB.open.'
    vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new DOMException(told, 'UnknownError')
    })
    expect(await failureOf(openTestLog())).toMatchObject({ code: 'storage unanswered' })
  })
})

describe('an upgrade', () => {
  /** A tab of the former version that does not let go. */
  async function oldTab(name: string): Promise<IDBDatabase> {
    await putDatabase(name, readFixture(1))
    return new Promise((resolve) => {
      const request = indexedDB.open(name, 1)
      request.onsuccess = () => resolve(request.result)
    })
  }

  it('waits for an old tab, says so, and goes on when it is closed', async () => {
    const name = freshName()
    const old = await oldTab(name)
    const onBlocked = vi.fn(() => void setTimeout(() => old.close(), 20))
    const log = await openTestLog({ name, onBlocked })
    expect(onBlocked).toHaveBeenCalledOnce()
    expect(await log.count()).toBe(7)
  })

  it('is given up after a while, and leaves the old tab its log', async () => {
    const name = freshName()
    const old = await oldTab(name)
    expect(await failureOf(openTestLog({ name, patienceMs: 30 }))).toEqual({
      code: 'upgrade blocked',
    })
    expect(old.transaction('readings').objectStore('readings').name).toBe('readings')
    old.close()
    const log = await openTestLog({ name })
    expect(await log.count()).toBe(7)
  })

  it('that was given up is taken over when the person tries again', async () => {
    const name = freshName()
    const old = await oldTab(name)
    for (let tries = 0; tries < 3; tries++) {
      const onBlocked = vi.fn()
      expect(await failureOf(openTestLog({ name, patienceMs: 20, onBlocked }))).toEqual({
        code: 'upgrade blocked',
      })
      expect(onBlocked).toHaveBeenCalledOnce()
    }
    const log = openTestLog({ name })
    old.close()
    expect(await (await log).count()).toBe(7)
  })

  it('in another tab closes this one, which says so', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const heard: LogChange[] = []
    log.subscribe((change) => heard.push(change))
    const newer = await new Promise<IDBDatabase>((resolve) => {
      const request = indexedDB.open(name, 99)
      request.onsuccess = () => resolve(request.result)
    })
    newer.close()
    expect(heard).toEqual([{ kind: 'closed', code: 'closed' }])
    expect(await failureOf(log.add(draft()))).toEqual({ code: 'closed' })
  })
})

describe('a connection that the browser drops', () => {
  it('is opened again at the next use', async () => {
    const name = freshName()
    const opened: IDBDatabase[] = []
    const open = indexedDB.open.bind(indexedDB)
    vi.spyOn(indexedDB, 'open').mockImplementation((...args) => {
      const request = open(...args)
      request.addEventListener('success', () => opened.push(request.result))
      return request
    })
    const log = await openTestLog({ name })
    await log.add(draft())
    // Without a word, and with one.
    opened.at(-1)!.close()
    expect(await log.count()).toBe(1)
    forceCloseDatabase(opened.at(-1) as never)
    await log.add(draft())
    expect(await log.count()).toBe(2)
    expect(opened).toHaveLength(3)
  })
})

describe('storage that the browser has cleared', () => {
  it('is noticed by the mark outside of it, until the person has read it', async () => {
    const marks = memoryMarks()
    const name = freshName()
    const log = await openTestLog({ name, marks })
    await log.add(draft())
    await log.add(draft())
    log.close()
    await new Promise((resolve) => {
      indexedDB.deleteDatabase(name).onsuccess = resolve
    })
    const after = await openTestLog({ name, marks })
    expect((await after.status()).missing).toMatchObject({ readings: 2 })
    await after.add(draft())
    const again = await openTestLog({ name, marks })
    expect((await again.status()).missing).toMatchObject({ readings: 2 })
    again.dismissMissing()
    expect((await (await openTestLog({ name, marks })).status()).missing).toBeNull()
  })

  it('is not suspected when the person has emptied the log', async () => {
    const marks = memoryMarks()
    const name = freshName()
    const log = await openTestLog({ name, marks })
    await log.add(draft())
    await log.empty()
    expect((await (await openTestLog({ name, marks })).status()).missing).toBeNull()
  })
})
