import fc from 'fast-check'
import { strToU8, type Zippable, zipSync } from 'fflate'
import { afterEach, describe, expect, it } from 'vitest'
import { RefusedFile } from '../../src/log/bring/refused.ts'
import { crc32 } from '../../src/log/crc32.ts'
import type { ImportPreview, Log, Reading } from '../../src/log/types.ts'
import { readFixture } from './fixture-database.ts'
import {
  bytesOf,
  closeTestLogs,
  contentOf,
  draft,
  jpegBlob,
  openTestLog,
  temperatureResult,
  textOf,
} from './opening.ts'

afterEach(closeTestLogs)

const jsonFile = (value: unknown) => new Blob([JSON.stringify(value)])
const fileOf = (readings: unknown[], more: object = {}) =>
  jsonFile({ schema: 'glowbook-log', version: 2, readings, kit: [], ...more })

async function refusal(work: Promise<unknown>) {
  const error = await work.then(
    () => undefined,
    (e: unknown) => e,
  )
  if (!(error instanceof RefusedFile)) throw new Error(`not refused: ${String(error)}`)
  return error.refusal
}

async function filledLog(): Promise<{ log: Log; reading: Reading }> {
  const log = await openTestLog()
  const reading = await log.add(draft({ object: 'Kiln shelf', inputs: { a: [1, 2] } }), {
    blob: jpegBlob(),
    width: 3,
    height: 2,
  })
  await log.edit(reading.id, { notes: 'second firing' })
  await log.recompute(reading.id, { result: temperatureResult(1180), reason: 'newer method' })
  await log.add(draft({ object: 'Anvil' }))
  await log.kit.add({ kind: 'lamp', name: 'Lamp', data: { volts: 12 } })
  return { log, reading }
}

const none = { new: 0, same: 0, conflicting: 0, foreign: 0 }

describe('a file of the log', () => {
  it.each(['json', 'zip'] as const)('brings everything into an empty log (%s)', async (format) => {
    const { log, reading } = await filledLog()
    const file = new Blob([await bytesOf(log.take(format))])
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
    expect(await contentOf(empty)).toBe(await contentOf(log))
    expect((await empty.find({ text: 'firing' })).ids()).toEqual([reading.id])
    const picture = await empty.picture(reading.id)
    expect(picture?.size).toBe(format === 'zip' ? reading.picture?.bytes : undefined)
  })

  it('changes nothing when everything is here already', async () => {
    const { log } = await filledLog()
    const before = await contentOf(log)
    const preview = await log.readFile(new Blob([await bytesOf(log.take('zip'))]))
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
    await (await other.readFile(new Blob([await bytesOf(log.take('json'))]))).merge({
      conflicts: 'mine',
    })
    const preview = await other.readFile(new Blob([await bytesOf(log.take('zip'))]))
    expect(preview).toMatchObject({ readings: { ...none, same: 2 }, pictures: 1 })
    await preview.merge({ conflicts: 'mine' })
    expect((await other.picture(reading.id))?.size).toBe(reading.picture?.bytes)
    expect(await other.check()).toEqual([])
  })

  it('may be in any order and layout that JSON allows', async () => {
    const { log } = await filledLog()
    const value = JSON.parse(await textOf(log.take('json'))) as Record<string, unknown>
    const { schema, version, ...rest } = value
    const empty = await openTestLog()
    const file = new Blob([
      `\uFEFF${JSON.stringify({ more: [{}], ...rest, version, schema }, null, 3)}\n`,
    ])
    await (await empty.readFile(file)).merge({ conflicts: 'mine' })
    expect(await contentOf(empty)).toBe(await contentOf(log))
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
        'backup/log.json': await bytesOf(log.take('json')),
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

describe('readings that differ here and in the file', () => {
  async function conflict(): Promise<{ log: Log; id: string; preview: ImportPreview }> {
    const { log, reading } = await filledLog()
    const file = new Blob([await bytesOf(log.take('json'))])
    await log.edit(reading.id, { notes: 'third firing', tags: ['mine'] })
    return { log, id: reading.id, preview: await log.readFile(file) }
  }

  it('are shown before anything is decided', async () => {
    const { preview } = await conflict()
    expect(preview.readings).toEqual({ ...none, same: 1, conflicting: 1 })
    expect(preview.examples).toMatchObject([
      { here: { notes: 'third firing' }, inFile: { notes: 'second firing' } },
    ])
  })

  it('stay as they are here when the person says so', async () => {
    const { log, preview } = await conflict()
    const before = await contentOf(log)
    await preview.merge({ conflicts: 'mine' })
    expect(await contentOf(log)).toBe(before)
  })

  it('take the file’s values and keep those from here in the history', async () => {
    const { log, id, preview } = await conflict()
    expect(await preview.merge({ conflicts: 'theirs' })).toMatchObject({ changed: 1, kept: 2 })
    expect(await log.get(id)).toMatchObject({
      reading: {
        notes: 'second firing',
        tags: [],
        history: [
          { values: { notes: '' } },
          { values: { notes: 'second firing', tags: [] } },
          { values: { notes: 'third firing', tags: ['mine'] } },
        ],
        recomputations: [{ reason: 'newer method' }],
      },
    })
  })

  it('are never mixed when they are different measurements under one id', async () => {
    const { log, reading } = await filledLog()
    const stored = await log.get(reading.id)
    if (stored?.state !== 'sound') throw new Error('damaged')
    const before = await contentOf(log)
    const file = fileOf([{ ...stored.reading, result: temperatureResult(2000) }])
    const preview = await log.readFile(file)
    expect(preview.readings).toEqual({ ...none, foreign: 1 })
    await preview.merge({ conflicts: 'theirs' })
    expect(await contentOf(log)).toBe(before)
  })

  it('come back when they were deleted here', async () => {
    const { log, reading } = await filledLog()
    const file = new Blob([await bytesOf(log.take('json'))])
    const before = await contentOf(log)
    await log.remove([reading.id])
    const preview = await log.readFile(file)
    expect(preview.readings).toEqual({ ...none, new: 1, same: 1 })
    await preview.merge({ conflicts: 'mine' })
    expect(await contentOf(log)).toBe(before)
    expect(await log.removed()).toEqual([])
  })
})

describe('all or nothing', () => {
  it('holds when the merge is stopped', async () => {
    const { log } = await filledLog()
    for (let i = 0; i < 250; i++) await log.add(draft())
    const file = new Blob([await bytesOf(log.take('json'))])
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
    const text = await textOf(log.take('json'))
    const other = await openTestLog()
    await other.add(draft({ object: 'mine' }))
    const before = await contentOf(other)
    expect(await refusal(other.readFile(new Blob([text.slice(0, -30)])))).toMatchObject({
      code: 'broken',
    })
    expect(await contentOf(other)).toBe(before)
  })

  it('holds when it is discarded or stopped while reading', async () => {
    const { log } = await filledLog()
    const file = new Blob([await bytesOf(log.take('zip'))])
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

describe('a hostile file', () => {
  async function sample(): Promise<Reading> {
    const log = await openTestLog()
    return log.add(draft({ inputs: { a: 1 } }))
  }
  const id2 = '00000000-0000-4000-8000-000000000002'

  it.each([
    ['empty', new Blob([]), 'not ours'],
    ['no JSON', new Blob(['GIF89a']), 'not ours'],
    ['another JSON', jsonFile({ readings: [] }), 'not ours'],
    ['a list', jsonFile([1, 2]), 'not ours'],
    ['another schema', jsonFile({ schema: 'other', version: 2, readings: [] }), 'not ours'],
    ['a strange version', fileOf([], { version: '2' }), 'not ours'],
    ['a newer version', fileOf([], { version: 3 }), 'newer version'],
    ['no UTF-8', new Blob(['{"schema":"', new Uint8Array([0xff, 0xfe])]), 'broken'],
    ['something after its end', new Blob(['{"schema":"glowbook-log","version":2} {}']), 'broken'],
    [
      'a member twice',
      new Blob(['{"schema":"glowbook-log","schema":"glowbook-log"}']),
      'wrong content',
    ],
    ['no list of readings', fileOf('x' as never), 'wrong content'],
    [
      'depth 100,000',
      new Blob([`{"schema":"glowbook-log","version":2,"readings":[${'['.repeat(100_000)}`]),
      'too large',
    ],
    ['depth elsewhere', new Blob([`{"schema":${'['.repeat(100_000)}`]), 'too large'],
    ['a huge name', new Blob([`{"${'x'.repeat(100_000)}":1}`]), 'too large'],
    [
      'a huge record',
      new Blob([
        '{"schema":"glowbook-log","version":2,"readings":["',
        'x'.repeat(25_000_000),
        '"]}',
      ]),
      'too large',
    ],
    ['a huge version', new Blob([`{"version":${'1'.repeat(20_000)}}`]), 'too large'],
  ] as [string, Blob, string][])('with %s is refused', async (_title, file, code) => {
    const log = await openTestLog()
    expect((await refusal(log.readFile(file))).code).toBe(code)
    expect(await log.count()).toBe(0)
  })

  it.each([
    ['a wrong type', (r: Reading) => ({ ...r, object: 7 })],
    ['a missing field', ({ notes: _, ...r }: Reading) => r],
    ['an unknown field', (r: Reading) => ({ ...r, html: '<script>' })],
    [
      'an infinite temperature',
      (r: Reading) =>
        JSON.parse(JSON.stringify(r).replace('"temperatureK":1173', '"temperatureK":1e999')),
    ],
    [
      'a negative uncertainty',
      (r: Reading) => ({ ...r, result: { ...r.result, standardUncertaintyK: -1 } }),
    ],
    ['a path for an id', (r: Reading) => ({ ...r, id: '../../etc/passwd' })],
    [
      'an impossible date',
      (r: Reading) => ({ ...r, takenAt: { iso: '2025-13-01T00:00:00Z', zone: '' } }),
    ],
    ['a huge note', (r: Reading) => ({ ...r, notes: 'x'.repeat(20_001) })],
    ['null', () => null],
    ['an array', () => []],
    ['a text', () => 'reading'],
  ] as [string, (r: Reading) => unknown][])(
    'with a reading that has %s is refused, with its place',
    async (_title, change) => {
      const good = await sample()
      const log = await openTestLog()
      const file = fileOf([{ ...good, id: id2 }, change(good)])
      const refused = await refusal(log.readFile(file))
      expect(refused).toMatchObject({ code: 'wrong content', where: /^readings\[1\]/ })
      expect(await log.count()).toBe(0)
    },
  )

  it.each(['__proto__', 'constructor', 'prototype'])(
    'with the name %s is refused and reaches no prototype',
    async (name) => {
      const good = await sample()
      const log = await openTestLog()
      for (const place of ['inputs', 'top'] as const) {
        const text = JSON.stringify(
          place === 'inputs' ? { ...good, inputs: { PUT: 1 } } : { ...good, PUT: 1 },
        )
        const record = text.replace('"PUT":1', `"${name}":{"polluted":"yes"}`)
        const file = new Blob([`{"schema":"glowbook-log","version":2,"readings":[${record}]}`])
        expect((await refusal(log.readFile(file))).code).toBe('wrong content')
      }
      expect(({} as { polluted?: string }).polluted).toBeUndefined()
    },
  )

  it('with one reading twice is refused', async () => {
    const good = await sample()
    const log = await openTestLog()
    expect(await refusal(log.readFile(fileOf([good, good])))).toMatchObject({
      code: 'wrong content',
      where: `${good.id}: twice`,
    })
  })

  it('with script in its notes is text and nothing else', async () => {
    const good = await sample()
    const log = await openTestLog()
    const notes = '<img src=x onerror=alert(1)>=HYPERLINK("x")'
    const preview = await log.readFile(fileOf([{ ...good, notes }]))
    await preview.merge({ conflicts: 'mine' })
    expect(await log.get(good.id)).toMatchObject({ reading: { notes } })
  })
})

describe('a hostile ZIP', () => {
  const log = () => openTestLog()
  const head = '{"schema":"glowbook-log","version":2,"readings":['
  const zipOf = (files: Zippable) => zipSync(files).slice()
  const good = () => zipOf({ 'log.json': strToU8(`${head}]}`) })

  const refusedZip = async (bytes: Uint8Array<ArrayBuffer>) =>
    refusal((await log()).readFile(new Blob([bytes])))

  it('that swells is refused before it is inflated', async () => {
    const bomb = zipOf({ 'log.json': strToU8(head + ' '.repeat(50_000_000)) })
    expect(bomb.length).toBeLessThan(100_000)
    expect(await refusedZip(bomb)).toEqual({ code: 'too large', where: 'log.json: swells' })
  })

  it('that lies about its size is refused while it is inflated', async () => {
    const bomb = zipOf({ 'log.json': strToU8(head + ' '.repeat(50_000_000)) })
    const view = new DataView(bomb.buffer)
    const directory = view.getUint32(bomb.length - 6, true)
    view.setUint32(directory + 24, 100_000, true)
    expect(await refusedZip(bomb)).toEqual({
      code: 'broken',
      where: 'log.json: more than declared',
    })
  })

  it('whose entries share their bytes is refused', async () => {
    const bytes = zipOf({
      'log.json': [strToU8(`${head}]}`), { level: 0 }],
      'log-2.json': [strToU8('x'), { level: 0 }],
    })
    const view = new DataView(bytes.buffer)
    const directory = view.getUint32(bytes.length - 6, true)
    const second = directory + 46 + 'log.json'.length
    view.setUint32(second + 42, 0, true)
    expect(await refusedZip(bytes)).toMatchObject({ code: 'broken', where: /overlaps/ })
  })

  it('that is encrypted, unknown, cut short or changed is refused', async () => {
    const whole = good()
    const directory = new DataView(whole.buffer).getUint32(whole.length - 6, true)
    const changed = (at: number, value: number) => {
      const copy = whole.slice()
      copy[at] = value
      return copy
    }
    expect(await refusedZip(changed(directory + 8, 1))).toMatchObject({ where: /encrypted/ })
    expect(await refusedZip(changed(directory + 10, 14))).toMatchObject({ where: /compression 14/ })
    expect(await refusedZip(changed(directory + 16, whole[directory + 16]! ^ 1))).toMatchObject({
      where: /check sum/,
    })
    expect(await refusedZip(whole.slice(0, -1))).toMatchObject({ code: 'broken' })
    expect(await refusedZip(whole.slice(0, 40))).toMatchObject({ code: 'broken' })
    expect(await refusedZip(zipOf({ 'other.json': strToU8('{}') }))).toEqual({ code: 'not ours' })
  })

  it('padded after its content is refused in good time', async () => {
    // A deflated entry followed by two megabytes that belong to it and say nothing.
    const name = strToU8('log.json')
    const zip = zipOf({ 'log.json': strToU8(`${head}]}`) })
    const view = new DataView(zip.buffer)
    const directory = view.getUint32(zip.length - 6, true)
    const padding = new Uint8Array(2_000_000)
    const padded = new Uint8Array(zip.length + padding.length)
    padded.set(zip.subarray(0, directory))
    padded.set(zip.subarray(directory), directory + padding.length)
    const after = new DataView(padded.buffer)
    const moved = directory + padding.length
    after.setUint32(moved + 20, view.getUint32(directory + 20, true) + padding.length, true)
    after.setUint32(padded.length - 6, moved, true)
    expect(name.length).toBe(8)
    expect(await refusedZip(padded)).toMatchObject({ code: 'broken', where: /no content/ })
  })

  it('with a picture that is not its reading’s is refused', async () => {
    const { log: source, reading } = await filledLog()
    const json = await bytesOf(source.take('json'))
    const name = `pictures/${reading.id}.jpg`
    const kept = new Uint8Array(await (await source.picture(reading.id))!.arrayBuffer())
    const other = kept.slice()
    other[other.length - 4] = other[other.length - 4]! ^ 1
    expect(await refusedZip(zipOf({ 'log.json': json, [name]: other }))).toEqual({
      code: 'wrong picture',
      id: reading.id,
    })
  })

  it('with a picture that carries metadata is refused, even if its reading vouches for it', async () => {
    const { log: source, reading } = await filledLog()
    const bytes = new Uint8Array(await jpegBlob().arrayBuffer())
    const text = (await textOf(source.take('json')))
      .replace(`"bytes":${reading.picture!.bytes}`, `"bytes":${bytes.length}`)
      .replace(`"crc32":${reading.picture!.crc32}`, `"crc32":${crc32(bytes)}`)
    const zip = zipOf({ 'log.json': strToU8(text), [`pictures/${reading.id}.jpg`]: bytes })
    expect(await refusedZip(zip)).toEqual({ code: 'wrong picture', id: reading.id })
  })
})

describe('2000 damaged files', () => {
  it('change nothing and end in a refusal or in a file that is sound', async () => {
    const { log: source } = await filledLog()
    const files = [await bytesOf(source.take('json')), await bytesOf(source.take('zip'))]
    const target = await openTestLog()
    await target.add(draft({ object: 'mine' }))
    const before = await contentOf(target)
    const counts = { refused: 0, sound: 0 }

    const damage = fc.oneof(
      // Single bytes, pieces cut out, doubled, swapped for noise, ends missing.
      fc.record({
        kind: fc.constant('flip'),
        at: fc.nat(),
        with: fc.integer({ min: 1, max: 255 }),
      }),
      fc.record({ kind: fc.constant('cut'), at: fc.nat(), with: fc.integer({ min: 1, max: 400 }) }),
      fc.record({
        kind: fc.constant('double'),
        at: fc.nat(),
        with: fc.integer({ min: 1, max: 400 }),
      }),
      fc.record({
        kind: fc.constant('noise'),
        at: fc.nat(),
        with: fc.integer({ min: 1, max: 60 }),
      }),
      fc.record({ kind: fc.constant('end'), at: fc.nat(), with: fc.constant(0) }),
    )
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(0, 1),
        fc.array(damage, { minLength: 1, maxLength: 3 }),
        async (which, damages) => {
          let bytes = files[which]!
          for (const one of damages) bytes = damaged(bytes, one)
          try {
            const preview = await target.readFile(new Blob([bytes]))
            await preview.discard()
            counts.sound++
          } catch (error) {
            if (!(error instanceof RefusedFile)) throw error
            counts.refused++
          }
        },
      ),
      { numRuns: 2000 },
    )
    expect(await contentOf(target)).toBe(before)
    expect(await target.check()).toEqual([])
    // Most damage is noticed; a changed letter in a note of the JSON cannot be.
    expect(counts.refused).toBeGreaterThan(1000)
    console.info(`damaged files: ${counts.refused} refused, ${counts.sound} read`)
  }, 120_000)
})

function damaged(
  bytes: Uint8Array<ArrayBuffer>,
  how: { kind: string; at: number; with: number },
): Uint8Array<ArrayBuffer> {
  if (bytes.length === 0) return bytes
  const at = how.at % bytes.length
  const upTo = Math.min(at + how.with, bytes.length)
  const joined = (...parts: Uint8Array[]) => {
    const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
    let to = 0
    for (const part of parts) {
      all.set(part, to)
      to += part.length
    }
    return all
  }
  switch (how.kind) {
    case 'flip': {
      const copy = bytes.slice()
      copy[at] = copy[at]! ^ how.with
      return copy
    }
    case 'cut':
      return joined(bytes.subarray(0, at), bytes.subarray(upTo))
    case 'double':
      return joined(bytes.subarray(0, upTo), bytes.subarray(at))
    case 'noise': {
      const copy = bytes.slice()
      for (let i = at; i < upTo; i++) copy[i] = (i * 197 + how.with * 31) & 255
      return copy
    }
    default:
      return bytes.slice(0, at)
  }
}
