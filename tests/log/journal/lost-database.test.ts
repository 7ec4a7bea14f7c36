import { afterEach, describe, expect, it, vi } from 'vitest'
import type { LogChange } from '../../../src/log/schema/types.ts'
import { dumpDatabase } from '../fixture-database.ts'
import {
  closeTestLogs,
  contentOf,
  draft,
  failureOf,
  freshName,
  memoryMarks,
  openTestLog,
} from '../opening.ts'

import { busyLog, deleteDatabase, place, recorded } from './journaled-log.ts'

afterEach(() => {
  closeTestLogs()
  vi.restoreAllMocks()
})

const blocksOf = async (name: string) =>
  (await dumpDatabase(name)).stores.find((store) => store.name === 'blocks')?.records

describe('a database that the browser has deleted', () => {
  it('is made whole again from the journal, and that is said until it is read', async () => {
    const { name, open } = place()
    const { log, first, second } = await busyLog(open)
    const before = await contentOf(log)
    const blocks = await blocksOf(name)
    log.close()
    await deleteDatabase(name)

    const again = await open()
    // What lists and searches read comes with it: nothing is left to be made at the first search.
    expect(await blocksOf(name)).toEqual(blocks)
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

  it('comes back as far as the journal goes, and what a gap in that has cost is told', async () => {
    const { name, open, files } = place()
    for (const object of ['first', 'second']) {
      const log = await open()
      const beside = await open()
      await log.add(draft({ object }))
      await beside.add(draft({ object: `${object} beside` }))
      log.close()
      beside.close()
    }
    const [oldest] = [...files.content.keys()].sort()
    files.content.delete(oldest!)
    await deleteDatabase(name)
    const again = await open()
    const left = await again.count()
    expect(left).toBeLessThan(4)
    expect((await again.find()).count).toBe(left)
    expect(await again.status()).toMatchObject({
      missing: { readings: 4 - left },
      restored: { readings: left },
    })
    // New entries take no number of one that is here.
    await again.add(draft({ object: 'third' }))
    expect(await (await open()).count()).toBe(left + 1)
  })

  it('comes back at a later start where the journal could not be read at first', async () => {
    const { name, marks, open } = place()
    const { log } = await busyLog(open)
    log.close()
    await deleteDatabase(name)
    const without = await openTestLog({ name, marks })
    expect((await without.status()).missing).toMatchObject({ readings: 2 })
    without.close()
    const again = await open()
    expect(await again.count()).toBe(2)
    expect(await again.status()).toMatchObject({ missing: null, restored: { readings: 2 } })
  })

  it('is told in full where a former loss has not been answered yet, and in all tabs as answered', async () => {
    const { name, marks, open } = place()
    for (let loss = 0; loss < 2; loss++) {
      const log = await openTestLog({ name, marks })
      await log.add(draft())
      log.close()
      await deleteDatabase(name)
    }
    const log = await openTestLog({ name, marks })
    const other = await open()
    expect((await other.status()).missing).toMatchObject({ readings: 2 })
    log.dismissMissing()
    expect((await other.status()).missing).toBeNull()
    await other.add(draft())
    expect((await (await open()).status()).missing).toBeNull()
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
    expect(await again.status()).toMatchObject({ missing: null, restored: { readings: 3 } })
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
