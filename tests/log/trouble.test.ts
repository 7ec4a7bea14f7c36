import { forceCloseDatabase } from 'fake-indexeddb'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { LogError } from '../../src/log/errors.ts'
import type { LogChange } from '../../src/log/types.ts'
import { putDatabase, readFixture, tamper } from './fixture-database.ts'
import {
  closeTestLogs,
  contentOf,
  draft,
  freshName,
  jpegBlob,
  memoryMarks,
  openTestLog,
} from './opening.ts'

afterEach(() => {
  closeTestLogs()
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
})

const codeOf = async (work: Promise<unknown>) => {
  const error = await work.then(
    () => undefined,
    (e: unknown) => e,
  )
  return error instanceof LogError ? error.failure : error
}

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
    expect(await codeOf(log.add(draft({ object: 'too much' })))).toEqual({
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
    expect(await codeOf(log.add(draft()))).toMatchObject({ code: 'storage full' })
    vi.restoreAllMocks()
    expect(await log.count()).toBe(0)
  })
})

describe('storage that is refused', () => {
  it('is told when the browser has none', async () => {
    vi.stubGlobal('indexedDB', undefined)
    expect(await codeOf(openTestLog())).toMatchObject({ code: 'storage refused' })
  })

  it('is told when opening is not allowed', async () => {
    vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('private window', 'SecurityError')
    })
    expect(await codeOf(openTestLog())).toMatchObject({ code: 'storage refused' })
  })

  it('is told when opening gets no answer', async () => {
    vi.spyOn(indexedDB, 'open').mockImplementation(() => new EventTarget() as IDBOpenDBRequest)
    expect(await codeOf(openTestLog({ patienceMs: 20 }))).toMatchObject({
      code: 'storage refused',
    })
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
    expect(await codeOf(openTestLog({ name, patienceMs: 30 }))).toEqual({ code: 'upgrade blocked' })
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
      expect(await codeOf(openTestLog({ name, patienceMs: 20, onBlocked }))).toEqual({
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
    expect(heard).toEqual([{ kind: 'closed' }])
    expect(await codeOf(log.add(draft()))).toEqual({ code: 'closed' })
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

describe('a damaged record', () => {
  type Row = { id: string; json: string }

  async function withDamage(change: (row: Row) => unknown) {
    const name = freshName()
    const log = await openTestLog({ name })
    const sound = await log.add(draft({ object: 'sound' }))
    const hurt = await log.add(draft({ object: 'hurt', inputs: { a: 1 } }))
    await tamper(name, 'readings', (store) => {
      const request = store.get(1)
      request.onsuccess = () => store.put(change(request.result))
    })
    return { log, sound, hurt }
  }

  it.each([
    ['a wrong type', (row) => ({ ...row, json: row.json.replace('"hurt"', '7') })],
    ['a missing field', (row) => ({ ...row, json: `{"id":"${row.id}"}` })],
    ['text cut short', (row) => ({ ...row, json: row.json.slice(0, 200) })],
    ['no text at all', ({ json: _, ...row }) => row],
    [
      'another id',
      (row) => ({ ...row, json: row.json.replaceAll(row.id, row.id.replace(/.$/, 'f')) }),
    ],
    ['an infinite number', (row) => ({ ...row, json: row.json.replace('1173', '1e999') })],
  ] as [string, (row: Row) => unknown][])(
    'with %s is told, with what is left of it, and costs no other',
    async (_title, change) => {
      const { log, sound, hurt } = await withDamage(change)
      const stored = await log.get(hurt.id)
      expect(stored).toMatchObject({ state: 'damaged', damage: { id: hurt.id } })
      if (stored?.state === 'damaged') {
        expect(stored.damage.where).not.toBe('')
        expect(JSON.parse(stored.damage.raw)).toMatchObject({ id: hurt.id })
      }
      expect(await log.get(sound.id)).toMatchObject({ state: 'sound' })
      expect((await log.check()).map((d) => d.id)).toEqual([hurt.id])
      expect(await codeOf(log.edit(hurt.id, { notes: 'x' }))).toMatchObject({ code: 'damaged' })
      expect(await log.count()).toBe(2)
      await log.remove([hurt.id])
      expect(await log.count()).toBe(1)
    },
  )

  it.each([
    ['no JSON', '[{"a":'],
    ['too few', '[1]'],
    ['of a forbidden name', '[{"__proto__":1},null]'],
    ['gone', undefined],
  ])('whose inputs are %s is told, and keeps what else is known of it', async (_title, text) => {
    const name = freshName()
    const log = await openTestLog({ name })
    const hurt = await log.add(draft({ object: 'hurt', inputs: { a: 1 } }))
    await tamper(name, 'inputs', (store) => {
      if (text === undefined) store.clear()
      else store.put(text, 0)
    })
    const stored = await log.get(hurt.id)
    expect(stored).toMatchObject({ state: 'damaged', damage: { where: /^inputs/ } })
    expect(stored?.state === 'damaged' && stored.damage.raw).toContain('"object": "hurt"')
    expect((await log.check()).map((d) => d.id)).toEqual([hurt.id])
    expect(await log.newest(1)).toMatchObject([{ object: 'hurt', temperatureK: 1173 }])
  })

  it('is left out of an export, and told', async () => {
    const { log, sound, hurt } = await withDamage(({ json: _, ...row }) => row)
    const told: string[] = []
    const chunks: string[] = []
    for await (const chunk of log.take('json', { onDamage: (d) => told.push(d.id) })) {
      chunks.push(new TextDecoder().decode(chunk))
    }
    expect(told).toEqual([hurt.id])
    expect((JSON.parse(chunks.join('')) as { readings: unknown[] }).readings).toMatchObject([
      { id: sound.id },
    ])
  })

  it('that cannot even be read does not hide the others', async () => {
    const { log, sound, hurt } = await withDamage((row) => row)
    breakRow(1)
    expect((await log.newest(5)).map((s) => s.damaged)).toEqual([true, false])
    expect(await log.get(hurt.id)).toMatchObject({ state: 'damaged' })
    expect(await log.get(sound.id)).toMatchObject({ state: 'sound' })
    expect((await log.check()).map((d) => d.where)).toEqual([
      expect.stringContaining('cannot be read'),
    ])
    const told: string[] = []
    let text = ''
    for await (const chunk of log.take('csv', { onDamage: (d) => told.push(d.id) })) {
      text += new TextDecoder().decode(chunk)
    }
    expect(told).toHaveLength(1)
    expect(text).toContain(sound.id)
  })

  it('in the picture is told and costs the reading nothing', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const reading = await log.add(draft(), { blob: jpegBlob(), width: 2, height: 2 })
    await tamper(name, 'pictures', (store) => {
      const request = store.get(reading.id)
      request.onsuccess = () => {
        const row = request.result as { bytes: Uint8Array }
        row.bytes[30] = row.bytes[30]! ^ 1
        store.put(row)
      }
    })
    expect(await log.check()).toMatchObject([{ id: reading.id, where: 'picture: damaged' }])
    expect(await log.get(reading.id)).toMatchObject({ state: 'sound' })
  })

  it('among the summaries is made again from the readings', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const reading = await log.add(draft({ object: 'Anvil' }))
    await tamper(name, 'blocks', (store) => store.clear())
    const again = await openTestLog({ name })
    expect((await again.find()).count).toBe(0)
    expect(await again.check()).toEqual([])
    expect((await again.find({ object: 'anvil' })).ids()).toEqual([reading.id])
  })

  it('among the counters does not make a new reading overwrite an old one', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const old = await log.add(draft())
    await tamper(name, 'state', (store) => store.clear())
    const again = await openTestLog({ name })
    await again.add(draft())
    await again.check()
    expect(await again.count()).toBe(2)
    expect(await again.get(old.id)).toMatchObject({ state: 'sound' })
  })
})

/** Reads of one row fail, as when the file behind a large value is lost. */
function breakRow(seq: number) {
  const clone = globalThis.structuredClone
  vi.stubGlobal('structuredClone', (value: unknown) => {
    if (typeof value === 'object' && value !== null && 'json' in value && 'seq' in value) {
      if (value.seq === seq) throw new DOMException('Failed to read large value', 'DataError')
    }
    return clone(value)
  })
}
