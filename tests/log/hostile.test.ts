import { strToU8, type Zippable, zipSync } from 'fflate'
import { afterEach, describe, expect, it } from 'vitest'
import { crc32 } from '../../src/log/crc32.ts'
import type { Reading } from '../../src/log/schema/types.ts'
import { fileOf, filledLog, jsonFile, refusal } from './importing.ts'
import { bytesOf, closeTestLogs, draft, jpegBlob, openTestLog, textOf } from './opening.ts'

afterEach(closeTestLogs)

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
    [
      'a record of a million names',
      new Blob([
        '{"schema":"glowbook-log","version":2,"readings":[{"inputs":{',
        Array.from({ length: 1_000_000 }, (_, i) => `"k${i}":1`).join(','),
        '}}]}',
      ]),
      'too large',
    ],
    [
      'a record of a million lists',
      new Blob([
        '{"schema":"glowbook-log","version":2,"readings":[[',
        new Array(1_000_000).fill('[]').join(','),
        ']]}',
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
    const bomb = zipOf({ 'log.json': strToU8(head + ' '.repeat(8_000_000)) })
    expect(bomb.length).toBeLessThan(100_000)
    expect(await refusedZip(bomb)).toEqual({ code: 'too large', where: 'log.json: swells' })
  })

  it('that lies about its size is refused while it is inflated', async () => {
    const bomb = zipOf({ 'log.json': strToU8(head + ' '.repeat(8_000_000)) })
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

  it('whose directory names its files in another order is read', async () => {
    const bytes = zipOf({ 'log.json': strToU8(`${head}]}`), 'about.txt': strToU8('x') })
    const end = bytes.length - 22
    const directory = new DataView(bytes.buffer).getUint32(bytes.length - 6, true)
    const second = directory + 46 + 'log.json'.length
    const turned = [bytes.slice(second, end), bytes.slice(directory, second), bytes.slice(end)]
    const preview = await (await log()).readFile(new Blob([bytes.slice(0, directory), ...turned]))
    expect(preview.readings.new).toBe(0)
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
    const json = await bytesOf(source.export('json'))
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
    const text = (await textOf(source.export('json')))
      .replace(`"bytes":${reading.picture!.bytes}`, `"bytes":${bytes.length}`)
      .replace(`"crc32":${reading.picture!.crc32}`, `"crc32":${crc32(bytes)}`)
    const zip = zipOf({ 'log.json': strToU8(text), [`pictures/${reading.id}.jpg`]: bytes })
    expect(await refusedZip(zip)).toEqual({ code: 'wrong picture', id: reading.id })
  })
})
