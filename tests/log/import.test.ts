import { strToU8, zipSync } from 'fflate'
import { afterEach, describe, expect, it } from 'vitest'
import { dumpDatabase, readFixture, tamper } from './fixture-database.ts'
import { filledLog, jsonFile, none, refusal } from './importing.ts'
import {
  bytesOf,
  closeTestLogs,
  contentOf,
  draft,
  failureOf,
  freshName,
  memoryMarks,
  openTestLog,
  textOf,
} from './opening.ts'

afterEach(closeTestLogs)

/** A file without pictures brings readings that have none. */
const withoutPictures = (text: string) => text.replace(/"picture":\{[^}]*\}/g, '"picture":null')

describe('a file of the log', () => {
  it.each(['json', 'zip'] as const)('brings everything into an empty log (%s)', async (format) => {
    const { log, reading } = await filledLog()
    const file = new Blob([await bytesOf(log.export(format))])
    const empty = await openTestLog()
    const preview = await empty.readFile(file)
    expect(preview).toMatchObject({
      readings: { ...none, new: 2 },
      kit: { ...none, new: 1 },
      pictures: format === 'zip' ? 1 : 0,
    })
    expect(await empty.count()).toBe(0)
    const report = await preview.merge({ conflicts: 'mine' })
    expect(report).toEqual({ added: 3, changed: 0, kept: 0, pictures: format === 'zip' ? 1 : 0 })
    const compared = format === 'zip' ? (text: string) => text : withoutPictures
    expect(compared(await contentOf(empty))).toBe(compared(await contentOf(log)))
    expect((await empty.find({ text: 'firing' })).ids()).toEqual([reading.id])
    const picture = await empty.picture(reading.id)
    expect(picture?.size).toBe(format === 'zip' ? reading.picture?.bytes : undefined)
  })

  it('changes nothing when everything is here already', async () => {
    const { log } = await filledLog()
    const before = await contentOf(log)
    const preview = await log.readFile(new Blob([await bytesOf(log.export('zip'))]))
    expect(preview).toMatchObject({
      readings: { ...none, same: 2 },
      kit: { ...none, same: 1 },
      pictures: 0,
    })
    expect(await preview.merge({ conflicts: 'theirs' })).toEqual({
      added: 0,
      changed: 0,
      kept: 3,
      pictures: 0,
    })
    expect(await contentOf(log)).toBe(before)
  })

  it('brings missing pictures to readings that are here', async () => {
    const { log, reading } = await filledLog()
    const other = await openTestLog()
    await (await other.readFile(new Blob([await bytesOf(log.export('json'))]))).merge({
      conflicts: 'mine',
    })
    const preview = await other.readFile(new Blob([await bytesOf(log.export('zip'))]))
    expect(preview).toMatchObject({ readings: { ...none, same: 2 }, pictures: 1 })
    await preview.merge({ conflicts: 'mine' })
    expect((await other.picture(reading.id))?.size).toBe(reading.picture?.bytes)
    expect(await other.check()).toEqual([])
  })

  it('may be in any order and layout that JSON allows', async () => {
    const { log } = await filledLog()
    const value = JSON.parse(await textOf(log.export('json'))) as Record<string, unknown>
    const { schema, version, ...rest } = value
    const empty = await openTestLog()
    const file = new Blob([
      `\uFEFF${JSON.stringify({ more: [{}], ...rest, version, schema }, null, 3)}\n`,
    ])
    await (await empty.readFile(file)).merge({ conflicts: 'mine' })
    expect(withoutPictures(await contentOf(empty))).toBe(withoutPictures(await contentOf(log)))
  })

  it('of version 1 is understood', async () => {
    const stores = readFixture(1).stores
    const records = (name: string) =>
      stores.find((store) => store.name === name)!.records.map((record) => record.value)
    const file = jsonFile({
      schema: 'glowbook-log',
      version: 1,
      readings: records('readings').slice(0, 5),
      kit: records('kit').slice(0, 1),
    })
    const log = await openTestLog()
    await (await log.readFile(file)).merge({ conflicts: 'mine' })
    expect(await log.count()).toBe(5)
    expect((await log.find({ text: 'brushed' })).count).toBe(1)
  })

  it('folded into a folder and compressed by another program is read all the same', async () => {
    const { log, reading } = await filledLog()
    const picture = new Uint8Array(await (await log.picture(reading.id))!.arrayBuffer())
    const file = new Blob([
      zipSync({
        'backup/': new Uint8Array(0),
        'backup/log.json': await bytesOf(log.export('json')),
        [`backup/pictures/${reading.id}.jpg`]: picture,
        'backup/notes.txt': strToU8('not ours'),
      }).slice(),
    ])
    const empty = await openTestLog()
    expect(await empty.readFile(file)).toMatchObject({
      readings: { ...none, new: 2 },
      pictures: 1,
    })
  })
})

it('a ZIP to which another program has put a comment is read all the same', async () => {
  const { log } = await filledLog()
  const zip = zipSync({ 'log.json': await bytesOf(log.export('json')) })
  const comment = strToU8('packed at the forge')
  const bytes = new Uint8Array(zip.length + comment.length)
  bytes.set(zip)
  bytes.set(comment, zip.length)
  // Length of the comment, the last two bytes before it, little-endian (APPNOTE 4.3.16).
  bytes[zip.length - 2] = comment.length
  const preview = await (await openTestLog()).readFile(new Blob([bytes]))
  expect(preview.readings).toEqual({ ...none, new: 2 })
})

describe('all or nothing', () => {
  it('holds when the merge is stopped', async () => {
    const { log } = await filledLog()
    for (let i = 0; i < 250; i++) await log.add(draft())
    const file = new Blob([await bytesOf(log.export('json'))])
    const other = await openTestLog()
    await other.add(draft({ object: 'mine' }))
    const before = await contentOf(other)
    const preview = await other.readFile(file)
    const stop = new AbortController()
    const merging = preview.merge({
      conflicts: 'mine',
      signal: stop.signal,
      progress: (done) => done === 2 && stop.abort(new Error('stopped')),
    })
    await expect(merging).rejects.toThrow('stopped')
    expect(await contentOf(other)).toBe(before)
    expect(await other.check()).toEqual([])
    // Still there to be merged after all.
    expect((await preview.merge({ conflicts: 'mine' })).added).toBe(253)
  })

  it('holds when the file turns out bad near its end', async () => {
    const { log } = await filledLog()
    for (let i = 0; i < 250; i++) await log.add(draft())
    const text = await textOf(log.export('json'))
    const other = await openTestLog()
    await other.add(draft({ object: 'mine' }))
    const before = await contentOf(other)
    expect(await refusal(other.readFile(new Blob([text.slice(0, -30)])))).toMatchObject({
      code: 'broken',
    })
    expect(await contentOf(other)).toBe(before)
  })

  it('holds when what was set aside is gone by the time of the merge', async () => {
    const { log } = await filledLog()
    const file = new Blob([await bytesOf(log.export('zip'))])
    const name = freshName()
    const other = await openTestLog({ name })
    await other.add(draft({ object: 'here before' }))
    const before = await contentOf(other)
    const preview = await other.readFile(file)
    // A whole batch: what is left of the file must not pass for all of it.
    await tamper(name, 'incoming', (store) => {
      const request = store.openCursor()
      request.onsuccess = () => request.result?.delete()
    })
    expect(await failureOf(preview.merge({ conflicts: 'mine' }))).toMatchObject({
      code: 'storage failed',
    })
    expect(await contentOf(other)).toBe(before)
  })

  it('leaves nothing set aside once it is merged, and is found and counted at once', async () => {
    const { log } = await filledLog()
    const file = new Blob([await bytesOf(log.export('json'))])
    const name = freshName()
    const marks = memoryMarks()
    const other = await openTestLog({ name, marks })
    // The index is loaded already: it has to hear of what is new.
    expect((await other.find()).count).toBe(0)
    await (await other.readFile(file)).merge({ conflicts: 'mine' })
    expect((await other.find()).count).toBe(2)
    const { stores } = await dumpDatabase(name)
    expect(stores.find((store) => store.name === 'incoming')!.records).toEqual([])
    // The browser clears the database by itself: what was imported is missed.
    other.close()
    await new Promise((resolve) => {
      indexedDB.deleteDatabase(name).onsuccess = resolve
    })
    const after = await openTestLog({ name, marks })
    expect((await after.status()).missing).toMatchObject({ readings: 2 })
  })

  it('leaves nothing behind that an import without an end had set aside', async () => {
    const { log } = await filledLog()
    const file = new Blob([await bytesOf(log.export('json'))])
    const name = freshName()
    const aside = async () =>
      (await dumpDatabase(name)).stores.find((store) => store.name === 'incoming')!.records.length
    const first = await openTestLog({ name, now: () => new Date('2025-03-01T00:00:00Z') })
    await first.readFile(file)
    expect(await aside()).toBeGreaterThan(0)
    // An hour later it may still be going on in another tab; a day later it is not.
    await openTestLog({ name, now: () => new Date('2025-03-01T01:00:00Z') })
    expect(await aside()).toBeGreaterThan(0)
    await openTestLog({ name, now: () => new Date('2025-03-02T01:00:00Z') })
    await expect.poll(aside).toBe(0)
  })

  it('holds when it is discarded or stopped while reading', async () => {
    const { log } = await filledLog()
    const file = new Blob([await bytesOf(log.export('zip'))])
    const other = await openTestLog()
    const preview = await other.readFile(file)
    await preview.discard()
    expect(await preview.merge({ conflicts: 'mine' })).toMatchObject({ added: 0 })
    const stop = new AbortController()
    stop.abort(new Error('no more'))
    await expect(other.readFile(file, { signal: stop.signal })).rejects.toThrow('no more')
    expect(await other.count()).toBe(0)
  })
})
