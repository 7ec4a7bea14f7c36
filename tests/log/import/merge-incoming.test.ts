import { strToU8, zipSync } from 'fflate'
import { afterEach, describe, expect, test } from 'vitest'
import type { ImportPreview } from '../../../src/log/schema/import-preview.ts'
import type { Log, LogChange, Reading } from '../../../src/log/schema/types.ts'
import { tamper } from '../fixture-database.ts'
import { fileOf, none, refusal } from '../importing.ts'
import { bytesOf, closeTestLogs, draft, freshName, jpegBlob, openTestLog } from '../opening.ts'

afterEach(closeTestLogs)

const PICTURE = () => ({ blob: jpegBlob(), width: 3, height: 2 })
const zipOf = async (log: Log) => new Blob([await bytesOf(log.export('zip'))])
const mine = { conflicts: 'mine' } as const
const theirs = { conflicts: 'theirs' } as const

async function soundOf(log: Log, id: string): Promise<Reading> {
  const stored = await log.get(id)
  if (stored?.state !== 'sound') throw new Error(`${id} is ${stored?.state}`)
  return stored.reading
}

describe('a reading that is here damaged', () => {
  async function hurt() {
    const name = freshName()
    const log = await openTestLog({ name })
    const { id } = await log.add(draft({ object: 'whole' }))
    const file = await zipOf(log)
    await tamper(name, 'readings', (store) => {
      const request = store.get(0)
      request.onsuccess = () => store.put({ ...request.result, json: '{' })
    })
    const preview = await log.readFile(file)
    expect(preview).toMatchObject({ readings: { ...none, conflicting: 1 }, examples: [] })
    return { log, id, preview }
  }

  test('stays as it is, or comes back from the file', async () => {
    const kept = await hurt()
    expect(await kept.preview.merge(mine)).toMatchObject({ kept: 1, changed: 0 })
    expect(await kept.log.get(kept.id)).toMatchObject({ state: 'damaged' })
    const back = await hurt()
    expect(await back.preview.merge(theirs)).toMatchObject({ kept: 0, changed: 1 })
    expect(await soundOf(back.log, back.id)).toMatchObject({ object: 'whole' })
    expect(await back.log.count()).toBe(1)
  })
})

describe('a reading that was deleted here', () => {
  test('comes back with what was written here since, where it is of the same measurement', async () => {
    const log = await openTestLog()
    const { id } = await log.add(draft({ notes: 'as in the file' }))
    const file = await zipOf(log)
    await log.edit(id, { notes: 'later' })
    await log.remove([id])
    const preview = await log.readFile(file)
    expect(preview.readings).toEqual({ ...none, new: 1 })
    expect(await preview.merge(mine)).toMatchObject({ added: 1, changed: 0, kept: 0 })
    const { notes, history } = await soundOf(log, id)
    expect(notes).toBe('as in the file')
    expect(history.map(({ values }) => values)).toEqual([
      { notes: 'as in the file' },
      { notes: 'later' },
    ])
    expect([await log.count(), (await log.removed()).length]).toEqual([1, 0])
  })

  test('comes back as the file’s where that is another measurement', async () => {
    const log = await openTestLog()
    const reading = await log.add(draft({ notes: 'mine' }))
    await log.remove([reading.id])
    const other = { ...reading, notes: 'theirs', savedAt: '2025-01-01T00:00:00Z' }
    await (await log.readFile(fileOf([other]))).merge(mine)
    expect(await soundOf(log, reading.id)).toMatchObject({ notes: 'theirs', history: [] })
  })
})

describe('pictures of a file', () => {
  test('take the place of damaged ones, and of those alone', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const [hurt, sound] = [await log.add(draft(), PICTURE()), await log.add(draft(), PICTURE())]
    const file = await zipOf(log)
    await tamper(name, 'pictures', (store) => {
      const request = store.get(hurt!.id)
      request.onsuccess = () => store.put({ ...request.result, bytes: new Uint8Array(3) })
    })
    expect((await log.check()).map(({ id }) => id)).toEqual([hurt!.id])
    expect(await (await log.readFile(file)).merge(mine)).toEqual({
      added: 0,
      changed: 0,
      kept: 2,
      pictures: 1,
    })
    expect(await log.check()).toEqual([])
    expect((await log.picture(sound!.id))?.size).toBe(sound!.picture!.bytes)
  })

  test('of no reading in it, or of one that is another here, have no place', async () => {
    const source = await openTestLog()
    const reading = await source.add(draft(), PICTURE())
    const other = await source.add(draft())
    const kept = new Uint8Array(await (await source.picture(reading.id))!.arrayBuffer())
    const json = await bytesOf(source.export('json', { ids: [reading.id] }))
    const zip = zipSync({
      'log.json': json,
      [`pictures/${reading.id}.jpg`]: kept,
      [`pictures/${other.id}.jpg`]: kept,
    })
    const log = await openTestLog()
    const preview = await log.readFile(new Blob([zip.slice()]))
    expect(preview).toMatchObject({ readings: { ...none, new: 1 }, pictures: 1 })
    expect(await preview.merge(mine)).toMatchObject({ added: 1, pictures: 1 })
    expect(await log.picture(other.id)).toBeUndefined()
    // A foreign reading under its id keeps the picture that it has not.
    const there = await openTestLog()
    const { picture: _, ...bare } = reading
    const foreign = { ...bare, picture: null, savedAt: '2025-01-01T00:00:00Z' }
    await (await there.readFile(fileOf([foreign]))).merge(mine)
    const report = await (await there.readFile(new Blob([zip.slice()]))).merge(theirs)
    expect(report).toMatchObject({ kept: 1, pictures: 0 })
    expect(await there.picture(reading.id)).toBeUndefined()
  })
})

describe('a file in several parts', () => {
  test('is read part by part; one part or one picture twice is refused', async () => {
    const source = await openTestLog()
    const all = [await source.add(draft(), PICTURE()), await source.add(draft())]
    const part = (i: number) => bytesOf(source.export('json', { ids: [all[i]!.id] }))
    const [first, second] = [await part(0), await part(1)]
    const read = async (files: Record<string, Uint8Array>) =>
      (await openTestLog()).readFile(new Blob([zipSync(files).slice()]))
    const preview = await read({ 'log.json': first, 'log-2.json': second, 'log-x.json': first })
    expect(preview.readings).toEqual({ ...none, new: 2 })
    // The same name in the directory twice: as another program might write it.
    const zip = zipSync({ 'log.json': first, 'lag.json': second }, { level: 0 })
    const text = strToU8('lag.json')
    const twice = Uint8Array.from(zip)
    for (let at = 0; at < twice.length; at++)
      if (text.every((byte, i) => twice[at + i] === byte)) twice[at + 1] = 'o'.charCodeAt(0)
    const log = await openTestLog()
    expect(await refusal(log.readFile(new Blob([twice])))).toEqual({
      code: 'wrong content',
      where: 'a part twice',
    })
    const kept = new Uint8Array(await (await source.picture(all[0]!.id))!.arrayBuffer())
    const picture = `pictures/${all[0]!.id}`
    const pictures = read({ 'log.json': first, [`${picture}.jpg`]: kept, [`${picture}.png`]: kept })
    expect(await refusal(pictures)).toEqual({
      code: 'wrong content',
      where: `${picture}.png: twice`,
    })
  })
})

describe('an import', () => {
  test('tells how far it is, and all listeners that everything may have changed', async () => {
    const source = await openTestLog()
    for (let i = 0; i < 90; i++) await source.add(draft())
    for (let i = 0; i < 30; i++) await source.kit.add({ kind: 'lamp', name: 'Lamp', data: null })
    const json = await bytesOf(source.export('json'))
    const log = await openTestLog()
    const read: [number, number][] = []
    const preview = await log.readFile(new Blob([json]), {
      progress: (done, total) => read.push([done, total]),
    })
    expect(read.at(-1)).toEqual([json.length, json.length])
    const heard: LogChange[] = []
    log.subscribe((change) => heard.push(change))
    const seen: [number, number][] = []
    await preview.merge({ ...mine, progress: (done, total) => seen.push([done, total]) })
    // After a hundred records ninety readings and ten things of the kit, then the other twenty.
    expect(seen).toEqual([
      [0, 3],
      [1, 3],
      [2, 3],
      [3, 3],
    ])
    expect(heard).toEqual([
      { kind: 'everything', elsewhere: false },
      { kind: 'kit', elsewhere: false },
    ])
    // All of it is on this device alone.
    expect((await log.status()).unsavedElsewhere).toBe(120)
  })

  test('shows twenty of those that differ, here and in the file', async () => {
    const log = await openTestLog()
    const ids: string[] = []
    for (let i = 0; i < 21; i++) ids.push((await log.add(draft({ notes: 'in the file' }))).id)
    const file = await zipOf(log)
    for (const id of ids) await log.edit(id, { notes: 'here' })
    const { examples, readings }: ImportPreview = await log.readFile(file)
    expect(readings).toEqual({ ...none, conflicting: 21 })
    expect(examples).toHaveLength(20)
    for (const { here, inFile } of examples)
      expect([here.notes, inFile.notes]).toEqual(['here', 'in the file'])
  })

  test('of simulated kit leaves nothing for a backup; examples go with the workshop', async () => {
    const log = await openTestLog()
    const item = await log.kit.add({ kind: 'lamp', name: 'Mine', data: null })
    await log.backedUp(await log.markBackup())
    const made = (end: string, change: object) => ({
      ...item,
      id: `00000000-0000-4000-8000-00000000000${end}`,
      ...change,
    })
    const kit = [made('1', { simulated: true }), made('2', { demo: true }), made('3', {})]
    expect(await (await log.readFile(fileOf([], { kit }))).merge(mine)).toMatchObject({ added: 3 })
    expect((await log.status()).unsavedElsewhere).toBe(1)
    const heard: string[] = []
    log.subscribe(({ kind }) => heard.push(kind))
    expect(await log.removeDemo()).toBe(0)
    expect(heard).toEqual(['readings', 'kit'])
    const left = (await log.kit.list()).items.map(({ id }) => id)
    expect(left.sort()).toEqual([kit[0]!.id, kit[2]!.id, item.id].sort())
    await log.removeDemo()
    expect(heard).toEqual(['readings', 'kit', 'readings'])
  })
})
