import { strFromU8, unzipSync } from 'fflate'
import { afterEach, describe, expect, it, vi } from 'vitest'
import type { Change } from '../../../src/log/journal/changes.ts'
import { frameBytes } from '../../../src/log/journal/frames.ts'
import { exportJournal } from '../../../src/log/journal/rescue.ts'
import { DATABASE_VERSION } from '../../../src/log/migrations/upgrade.ts'
import type { Json } from '../../../src/log/schema/types.ts'
import { MAPS_TO_EXPORT } from '../../../src/session/log/maps-to-export.ts'
import { packedMap } from '../../../src/session/log/stored-map.ts'
import { madeMap } from '../../session/map/made-map.ts'
import {
  bytesOf,
  closeTestLogs,
  contentOf,
  draft,
  failureOf,
  jpegBlob,
  openTestLog,
  textOf,
} from '../opening.ts'
import { busyLog, deleteDatabase, place } from './journaled-log.ts'
import { keeperOver, type MemoryFiles, memoryFiles } from './memory-files.ts'

afterEach(() => {
  closeTestLogs()
  vi.restoreAllMocks()
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

  it('brings pictures back, small ones from their records and large ones from files', async () => {
    const here = place()
    const log = await here.open()
    const small = new Uint8Array(await jpegBlob().arrayBuffer())
    // Longer by coded picture data before the mark of its end.
    const end = small.lastIndexOf(0xd9) - 1
    const parts = [small.slice(0, end), new Uint8Array(150_000).fill(0x11), small.slice(end)]
    const large = new Blob(parts, { type: 'image/jpeg' })
    const ids: string[] = []
    for (const blob of [jpegBlob(), large]) {
      ids.push((await log.add(draft(), { blob, width: 8, height: 8 })).id)
    }
    expect([...here.files.pictureBytes.keys()]).toEqual([ids[1]])
    const bytesOf = async (from: typeof log) =>
      Promise.all(ids.map(async (id) => (await from.picture(id))?.arrayBuffer()))
    const before = await bytesOf(log)
    expect(before[1]!.byteLength).toBeGreaterThan(150_000)
    expect(await bytesOf(await rebuilt(here))).toEqual(before)
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
    here.files.fails = 'the file is gone'
    await log.add(draft({ object: 'one copy' }))
    expect((await log.status()).secondCopy).toBe('failed')
    here.files.fails = null
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

describe('the log read from its journal alone', () => {
  const chunks = (files: MemoryFiles, format: 'json' | 'zip') =>
    exportJournal(
      async () => keeperOver(files),
      () => new Date(0),
      format,
      { maps: MAPS_TO_EXPORT },
    )
  const withoutDate = (text: string) => text.replace(/"exportedAt":"[^"]*"/, '')

  it('leaves as the file that the log itself would make', async () => {
    const here = place()
    const { log } = await busyLog(here.open)
    await log.add(draft({ details: { map: packedMap(madeMap()) } as unknown as Json }))
    const before = await textOf(log.export('json'))
    const entries = (bytes: Uint8Array) => Object.entries(unzipSync(bytes))
    const zip = entries(await bytesOf(log.export('zip', { maps: MAPS_TO_EXPORT })))
    expect(withoutDate(await textOf(chunks(here.files, 'json')))).toBe(withoutDate(before))
    const rescued = new Map(entries(await bytesOf(chunks(here.files, 'zip'))))
    // The log, a picture, a map, and two entries of each of two recordings.
    expect(zip).toHaveLength(7)
    expect([...rescued.keys()].sort()).toEqual(zip.map(([name]) => name).sort())
    for (const [name, bytes] of zip) {
      const text = (of: Uint8Array) => withoutDate(strFromU8(of))
      expect(text(rescued.get(name)!)).toBe(text(bytes))
    }
  })

  it('is refused where there is none', async () => {
    expect(await failureOf(textOf(chunks(memoryFiles(), 'json')))).toMatchObject({
      code: 'storage unanswered',
    })
  })
})

describe('a disk that is full', () => {
  it('without room for the journal confirms no save, whatever the database says', async () => {
    const { open, files } = place()
    const { log } = await busyLog(open)
    files.fails = 'no space: 180224 of 278136 bytes'
    expect(await failureOf(log.add(draft()))).toMatchObject({ code: 'storage full' })
    files.fails = null
    expect(await failureOf(log.add(draft()))).toMatchObject({ code: 'storage full' })
    expect((await log.status()).stopped).toBe(true)
  })

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
