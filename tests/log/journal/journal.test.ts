import { afterEach, describe, expect, it, vi } from 'vitest'
import type { Change } from '../../../src/log/journal/changes.ts'
import { frameBytes } from '../../../src/log/journal/frames.ts'
import { DATABASE_VERSION } from '../../../src/log/migrations/upgrade.ts'
import { emptyColumns } from '../../../src/log/recordings/columns.ts'
import type { LogChange } from '../../../src/log/schema/types.ts'
import {
  closeTestLogs,
  contentOf,
  draft,
  failureOf,
  freshName,
  jpegBlob,
  memoryMarks,
  openTestLog,
} from '../opening.ts'
import { keeperOver, type MemoryFiles, memoryFiles } from './memory-files.ts'

afterEach(() => {
  closeTestLogs()
  vi.restoreAllMocks()
})

const deleteDatabase = (name: string) =>
  new Promise((resolve) => {
    indexedDB.deleteDatabase(name).onsuccess = resolve
  })

/** A log of one browser: its database, its private files and its mark. */
function place() {
  const name = freshName()
  const files = memoryFiles()
  const marks = memoryMarks()
  const open = () => {
    files.kill()
    return openTestLog({ name, marks, journal: async () => keeperOver(files) })
  }
  return { name, files, marks, open }
}

function recorded() {
  const columns = emptyColumns(30)
  columns.temperatureK.fill(1173)
  return columns
}

/** Work of every kind. */
async function busyLog(open: ReturnType<typeof place>['open']) {
  const log = await open()
  const first = await log.add(draft({ object: 'first', inputs: { n: 1 } }), {
    blob: jpegBlob(),
    width: 8,
    height: 8,
  })
  const second = await log.add(draft({ object: 'second' }))
  const third = await log.add(draft({ object: 'third' }))
  await log.edit(first.id, { notes: 'brushed' })
  await log.remove([second.id])
  await log.restore(await log.remove([third.id]))
  await log.kit.add({ kind: 'camera', name: 'Bench camera', data: { lens: 'wide' } })
  await log.settings.set('unit', 'F')
  for (const object of ['bar', 'bar again']) {
    await log.recordings.add(
      {
        source: 'live',
        simulated: false,
        startedAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: 'Europe/Vienna' },
        cameraId: '',
        methodVersion: '1',
        object,
      },
      recorded(),
      { why: 'all of it' },
    )
  }
  return { log, first, second, third }
}

describe('a database that the browser has deleted', () => {
  it('is made whole again from the journal, and that is said until it is read', async () => {
    const { name, open } = place()
    const { log, first, second } = await busyLog(open)
    const before = await contentOf(log)
    log.close()
    await deleteDatabase(name)

    const again = await open()
    expect(await contentOf(again)).toBe(before)
    expect(await again.check()).toEqual([])
    expect(await again.count()).toBe(2)
    expect((await again.find()).count).toBe(2)
    expect((await again.removed()).map(({ id }) => id)).toEqual([second.id])
    expect(await (await again.picture(first.id))?.arrayBuffer()).toBeDefined()
    expect(await again.settings.get('unit')).toBe('F')
    const { items: recordings, damaged } = await again.recordings.list()
    expect(damaged).toEqual([])
    expect(recordings.map(({ object }) => object).sort()).toEqual(['bar', 'bar again'])
    expect(await again.recordings.get(recordings[0]!.id)).toMatchObject({
      columns: recorded(),
      details: { why: 'all of it' },
    })
    expect(await again.status()).toMatchObject({
      missing: null,
      restored: { readings: 2 },
      secondCopy: 'kept',
    })
    const later = await open()
    expect((await later.status()).restored).toMatchObject({ readings: 2 })
    later.dismissMissing()
    expect((await (await open()).status()).restored).toBeNull()
  })

  it('takes new readings as if nothing had been', async () => {
    const { name, open } = place()
    const { log } = await busyLog(open)
    log.close()
    await deleteDatabase(name)
    const again = await open()
    await again.add(draft({ object: 'later' }))
    again.close()
    await deleteDatabase(name)
    expect(await (await open()).count()).toBe(3)
  })

  it('under an open log is told as what it is', async () => {
    const { name, open } = place()
    const { log } = await busyLog(open)
    const heard: LogChange[] = []
    log.subscribe((change) => heard.push(change))
    await deleteDatabase(name)
    expect(heard).toEqual([{ kind: 'closed', code: 'database deleted' }])
    expect(await failureOf(log.add(draft()))).toEqual({ code: 'database deleted' })
  })
})

describe('a database that has lost its last writes', () => {
  /** As it is at this moment, store by store. */
  async function copyOf(name: string) {
    const db = await new Promise<IDBDatabase>((resolve) => {
      const request = indexedDB.open(name)
      request.onsuccess = () => resolve(request.result)
    })
    const stores = [...db.objectStoreNames].filter((store) => store !== 'incoming')
    const all = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve) => {
        request.onsuccess = () => resolve(request.result)
      })
    const tx = db.transaction(stores)
    const content = await Promise.all(
      stores.map(async (store) => ({
        store,
        keys: await all(tx.objectStore(store).getAllKeys()),
        values: await all(tx.objectStore(store).getAll()),
      })),
    )
    return async () => {
      const back = db.transaction(stores, 'readwrite')
      for (const { store, keys, values } of content) {
        const target = back.objectStore(store)
        target.clear()
        values.forEach((value, i) => {
          if (target.keyPath === null) target.put(value, keys[i])
          else target.put(value)
        })
      }
      await new Promise((resolve) => {
        back.oncomplete = resolve
      })
      db.close()
    }
  }

  it('gets them back from the journal', async () => {
    const { name, open } = place()
    const { log, first } = await busyLog(open)
    const goBack = await copyOf(name)
    await log.edit(first.id, { notes: 'brushed twice' })
    await log.add(draft({ object: 'fourth' }))
    const before = await contentOf(log)
    log.close()
    await goBack()
    const again = await open()
    await again.settings.set('wait', 1)
    expect(await contentOf(again)).toBe(before)
    expect(await again.check()).toEqual([])
  })

  it('is told by the mark where there is no journal', async () => {
    const name = freshName()
    const marks = memoryMarks()
    const log = await openTestLog({ name, marks })
    const { id } = await log.add(draft())
    const goBack = await copyOf(name)
    await log.add(draft())
    log.close()
    await goBack()
    const again = await openTestLog({ name, marks })
    expect((await again.status()).missing).toMatchObject({ readings: 1 })
    expect((await again.status()).secondCopy).toBe('none')
    again.dismissMissing()
    // An edit is lost, no reading.
    const goBackAgain = await copyOf(name)
    await again.edit(id, { notes: 'new' })
    again.close()
    await goBackAgain()
    expect((await (await openTestLog({ name, marks })).status()).missing).toMatchObject({
      readings: 0,
    })
  })
})

describe('the journal', () => {
  async function rebuilt({ name, open }: ReturnType<typeof place>) {
    closeTestLogs()
    await deleteDatabase(name)
    return open()
  }
  const only = (files: MemoryFiles) => {
    expect(files.content.size).toBe(1)
    return [...files.content][0]!
  }

  it('with a torn tail is cut at its last sound record, and written on', async () => {
    const here = place()
    const { log } = await busyLog(here.open)
    const before = await contentOf(log)
    const [segment, bytes] = only(here.files)
    await log.add(draft({ object: 'torn' }))
    const whole = only(here.files)[1]
    for (const cut of [bytes.length + 1, bytes.length + 30, whole.length - 1]) {
      here.files.content.set(segment, whole.slice(0, cut))
      expect(await contentOf(await rebuilt(here))).toBe(before)
    }
    const changed = whole.slice()
    changed[bytes.length + 40]! ^= 1
    here.files.content.set(segment, changed)
    const again = await rebuilt(here)
    expect(await contentOf(again)).toBe(before)
    await again.add(draft({ object: 'after' }))
    const after = await contentOf(again)
    expect(await contentOf(await rebuilt(here))).toBe(after)
  })

  it('holds nothing of a change that failed, nor of one that never ended', async () => {
    const here = place()
    const { log } = await busyLog(here.open)
    const before = await contentOf(log)
    const put = IDBObjectStore.prototype.put
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (
      this: IDBObjectStore,
      ...args
    ) {
      const request = put.apply(this, args)
      const { transaction } = this
      // At the very end: all has been said, and the transaction is taken back.
      if (this.name === 'state' && args[1] === 'turn') {
        request.addEventListener('success', () => transaction.abort())
      }
      return request
    })
    await failureOf(log.add(draft({ object: 'never' })))
    vi.restoreAllMocks()
    const part = JSON.stringify([['settings', 'half', 1]] satisfies Change[])
    const [segment, bytes] = only(here.files)
    here.files.content.set(
      segment,
      new Uint8Array([...bytes, ...frameBytes({ kind: 'part', turn: 99, text: part })]),
    )
    const again = await rebuilt(here)
    expect(await contentOf(again)).toBe(before)
    expect(await again.settings.get('half')).toBeUndefined()
  })

  it('begins with a snapshot of a log that was there before it', async () => {
    const { name, files, marks } = place()
    const former = await openTestLog({ name, marks })
    await busyLog(async () => former)
    const before = await contentOf(former)
    former.close()
    const open = () => {
      files.kill()
      return openTestLog({ name, marks, journal: async () => keeperOver(files) })
    }
    await open()
    await expect.poll(() => files.pictureBytes.size).toBe(1)
    await expect
      .poll(async () => (await keeperOver(files).look())?.snapshotBytes)
      .toBeGreaterThan(0)
    expect(await contentOf(await rebuilt({ name, files, marks, open }))).toBe(before)
  })

  it('is brought together when it has grown, also while more is written', async () => {
    const here = place()
    const log = await here.open()
    for (let i = 0; i < 50; i++) await log.settings.set('big', 'y'.repeat(90_000) + i)
    log.close()
    const grown = (await keeperOver(here.files).look())!.bytes
    expect(grown).toBeGreaterThan(4_000_000)
    const again = await here.open()
    for (let i = 0; i < 20; i++) await again.add(draft({ object: `meanwhile ${i}` }))
    await expect
      .poll(async () => (await keeperOver(here.files).look())?.snapshotBytes)
      .toBeGreaterThan(0)
    expect((await keeperOver(here.files).look())?.whole).toBe(true)
    const before = await contentOf(again)
    expect((await keeperOver(here.files).look())!.bytes).toBeLessThan(grown)
    expect(await contentOf(await rebuilt(here))).toBe(before)
  })

  it('of two tabs is one list, in the order of their changes', async () => {
    const here = place()
    const one = await here.open()
    const two = await openTestLog({
      name: here.name,
      marks: here.marks,
      journal: async () => keeperOver(here.files),
    })
    const { id } = await one.add(draft())
    for (let i = 0; i < 6; i++) await (i % 2 ? one : two).edit(id, { notes: `edit ${i}` })
    expect(here.files.content.size).toBe(2)
    const before = await contentOf(one)
    expect(await contentOf(await rebuilt(here))).toBe(before)
  })

  it('that cannot be written lets the log save, says so, and is whole after the next start', async () => {
    const here = place()
    const { log } = await busyLog(here.open)
    here.files.full = true
    await log.add(draft({ object: 'one copy' }))
    expect((await log.status()).secondCopy).toBe('failed')
    here.files.full = false
    await log.add(draft({ object: 'another' }))
    const before = await contentOf(log)
    log.close()
    const again = await here.open()
    expect((await again.status()).secondCopy).toBe('kept')
    await expect
      .poll(async () => (await keeperOver(here.files).look())?.snapshotBytes)
      .toBeGreaterThan(0)
    expect(await contentOf(await rebuilt(here))).toBe(before)
  })

  it('forgets what was emptied, and pictures that are gone', async () => {
    const here = place()
    const { log } = await busyLog(here.open)
    await log.empty({ kit: true })
    await log.add(draft({ object: 'new' }))
    const before = await contentOf(log)
    expect(await contentOf(await rebuilt(here))).toBe(before)
  })

  it('of rows of another version is not mixed into this one', async () => {
    const here = place()
    await busyLog(here.open)
    closeTestLogs()
    const keeper = keeperOver(here.files)
    here.files.kill()
    await keeper.append(
      { epoch: (await keeper.look())!.epoch, version: DATABASE_VERSION + 1, atMs: 9e15 },
      { kind: 'end', turn: 1000, text: '[]' },
      [],
    )
    await keeper.close()
    expect((await keeper.look())!.version).toBeNaN()
    expect(await (await here.open()).count()).toBe(2)
  })
})

describe('a disk that is full', () => {
  const told = [
    new DOMException('Failed to write blobs (NoSpace)', 'DataError'),
    new DOMException('Internal error committing transaction: NO_SPACE', 'UnknownError'),
  ]
  for (const error of told) {
    it(`told as “${error.message}” stops writing and keeps what is there`, async () => {
      const { open } = place()
      const { log } = await busyLog(open)
      const before = await contentOf(log)
      vi.spyOn(IDBObjectStore.prototype, 'add').mockImplementation(() => {
        throw error
      })
      expect(await failureOf(log.add(draft()))).toMatchObject({ code: 'storage full' })
      vi.restoreAllMocks()
      // No second try: it is the next write that has cost whole logs.
      const transaction = vi.spyOn(IDBDatabase.prototype, 'transaction')
      expect(await failureOf(log.add(draft()))).toMatchObject({ code: 'storage full' })
      expect(transaction).not.toHaveBeenCalled()
      expect((await log.status()).stopped).toBe(true)
      expect(await contentOf(log)).toBe(before)
    })
  }
})
