import { strToU8, zipSync } from 'fflate'
import { afterEach, describe, expect, it } from 'vitest'
import { fileOf, jsonFile, refusal } from './importing.ts'
import { closeTestLogs, draft, openTestLog, temperatureResult } from './opening.ts'

afterEach(closeTestLogs)

/** Why a file is refused; null: it is read. */
async function refused(file: Blob): Promise<string | null> {
  const log = await openTestLog()
  const preview = log.readFile(file)
  return preview.then(
    async (found) => {
      await found.discard()
      return null
    },
    async () => (await refusal(preview)).code,
  )
}

describe('a file of the log is read', () => {
  const nested = (levels: number) => {
    let value: unknown = 1
    for (let i = 0; i < levels; i++) value = [value]
    return value
  }
  // Each on both sides: what is read, and what is refused.
  it.each<readonly [string, Blob, Blob]>([
    ['with a hundred members', fileOf([], named(96)), fileOf([], named(97))],
    [
      'with a member of 10,000 characters',
      fileOf([], { about: 'x'.repeat(9998) }),
      fileOf([], { about: 'x'.repeat(9999) }),
    ],
    ['nested 48 deep', fileOf([], { about: nested(46) }), fileOf([], { about: nested(47) })],
  ])('%s', async (_, inside, outside) => {
    expect(await refused(inside)).toBeNull()
    expect(await refused(outside)).toBe('too large')
  })

  it('from the first version on, in whole numbers', async () => {
    const of = (version: unknown) =>
      refused(jsonFile({ schema: 'glowbook-log', version, readings: [] }))
    expect(await of(1)).toBeNull()
    for (const version of [0, -1, 1.5, '1', null]) expect(await of(version)).toBe('not ours')
  })
})

describe('a ZIP is read', () => {
  const head = '{"schema":"glowbook-log","version":2,"readings":['
  const zipped = (text: string) => {
    const bytes = zipSync({ 'log.json': strToU8(`${head}${text}]}`) })
    return new Blob([bytes.slice()])
  }

  it('that swells, while it is small', async () => {
    // Blanks swell a thousandfold.
    expect(await refused(zipped(' '.repeat(990_000)))).toBeNull()
    expect(await refused(zipped(' '.repeat(1_010_000)))).toBe('too large')
  })

  it('that is large, while it swells by no more than 250 times', async () => {
    let state = 1
    // Letters that hardly shrink, as the text of a member, and blanks that do.
    const letters = Array.from({ length: 9000 }, () => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0
      return String.fromCharCode(97 + ((state >>> 8) % 26))
    }).join('')
    const swelling = (count: number) => {
      const text = `{"schema":"glowbook-log","version":2,"about":"${letters.slice(0, count)}",${' '.repeat(1_500_000)}"readings":[]}`
      const bytes = zipSync({ 'log.json': strToU8(text) })
      const view = new DataView(bytes.buffer)
      const directory = view.getUint32(bytes.length - 6, true)
      const ratio = view.getUint32(directory + 24, true) / view.getUint32(directory + 20, true)
      return { file: new Blob([bytes.slice()]), ratio }
    }
    let [few, many] = [1000, 9000]
    while (many - few > 20) {
      const middle = Math.round((few + many) / 2)
      if (swelling(middle).ratio > 250) few = middle
      else many = middle
    }
    const [over, under] = [swelling(few), swelling(many)]
    expect(over.ratio - under.ratio).toBeLessThan(2)
    expect(await refused(under.file)).toBeNull()
    expect(await refused(over.file)).toBe('too large')
  })

  it('with the longest comment that there can be', async () => {
    const bytes = new Uint8Array(await zipped('').arrayBuffer())
    const comment = (length: number) => {
      const whole = new Uint8Array(bytes.length + length).fill(0x78)
      whole.set(bytes)
      new DataView(whole.buffer).setUint16(bytes.length - 2, length, true)
      return new Blob([whole])
    }
    expect(await refused(comment(65_535))).toBeNull()
  })
})

describe('a reading of a file is read', () => {
  const at = '2025-03-01T10:00:00.000Z'
  const former = { at, values: { notes: 'before' } }
  const again = {
    at,
    result: temperatureResult(1200),
    reason: 'newer method',
    inputs: null,
    details: null,
  }
  const part = (weight: number) => ({
    id: '00000000-0000-4000-8000-000000000002',
    temperatureK: 1200,
    standardUncertaintyK: 10,
    weight,
  })
  const many = <Of>(count: number, of: Of): Of[] => new Array<Of>(count).fill(of)
  const picture = (change: object) => ({
    picture: { type: 'image/jpeg', width: 3, height: 2, bytes: 9, crc32: 7, ...change },
  })
  const nested = (levels: number) => JSON.parse(`${'['.repeat(levels)}${']'.repeat(levels)}`)

  // Each on both sides: what is read, and what is refused.
  it.each<readonly [string, object, object]>([
    ['with fifty parts', { parts: many(50, part(1)) }, { parts: many(51, part(1)) }],
    ['with a weight of a part', { parts: [part(1000)] }, { parts: [part(1050)] }],
    ['with a weight against the others', { parts: [part(-1000)] }, { parts: [part(-1050)] }],
    ['with 2000 edits', { history: many(2000, former) }, { history: many(2001, former) }],
    [
      'with 200 recomputations',
      { recomputations: many(200, again) },
      { recomputations: many(201, again) },
    ],
    [
      'with a picture as wide as JPEG can be',
      picture({ width: 65_535 }),
      picture({ width: 65_536 }),
    ],
    [
      'with a picture as high as JPEG can be',
      picture({ height: 65_535 }),
      picture({ height: 65_536 }),
    ],
    ['with a picture of one column', picture({ width: 1 }), picture({ width: 0 })],
    ['with a picture of one row', picture({ height: 1 }), picture({ height: 0 })],
    ['with a picture of one byte', picture({ bytes: 1 }), picture({ bytes: 0 })],
    [
      'with a check sum of 32 bits',
      picture({ crc32: 0xffff_ffff }),
      picture({ crc32: 0x1_0000_0000 }),
    ],
    ['with inputs 24 deep', { inputs: nested(24) }, { inputs: nested(25) }],
    [
      'with details of a million characters',
      { details: 'x'.repeat(999_990) },
      { details: 'x'.repeat(1_000_000) },
    ],
  ])('%s', async (_, inside, outside) => {
    const { id, ...whole } = await (await openTestLog()).add(draft())
    const file = (change: object) => fileOf([{ ...whole, id, ...change }])
    const none = await refused(file(inside))
    // The bytes of its picture are not in the file; its facts are as they may be.
    expect(none === null || ('picture' in inside && none === 'wrong picture')).toBe(true)
    expect(await refused(file(outside))).toBe('wrong content')
  })
})

function named(count: number, start = 'n') {
  return Object.fromEntries(Array.from({ length: count }, (_, i) => [`${start}${i}`, 1]))
}
