import { describe, expect, test } from 'vitest'
import {
  jsonMembers,
  type Member,
  type MemberLimits,
} from '../../../src/log/import/json-members.ts'
import { recordsOf, textOf } from '../../../src/log/import/records.ts'
import { SAMPLE_READING } from '../../screens/stored-samples.ts'
import { refusal } from '../importing.ts'

const ROOMY: MemberLimits = {
  recordCharacters: 1000,
  memberCharacters: 1000,
  depth: 48,
  membersOfObject: 100,
  containers: 100,
}

/** What is found in a text of one list, or why it is refused. */
async function read(text: string, limits: Partial<MemberLimits> = {}) {
  async function* chunks() {
    yield text
  }
  const members: Member[] = []
  const reading = (async () => {
    for await (const one of jsonMembers(chunks(), ['list'], { ...ROOMY, ...limits }))
      members.push(one)
    return members
  })()
  return reading.catch(async () => {
    const why = await refusal(reading)
    return 'where' in why ? `${why.code}: ${why.where}` : why.code
  })
}

describe('a file that is no JSON object of ours is refused with its place', () => {
  test.each([
    ['', 'not ours'],
    ['[]', 'not ours'],
    [' \uFEFF {}x', 'broken: something follows the end'],
    ['\uFEFF{', 'broken: end is missing'],
    ['{"a":1', 'broken: end is missing'],
    ['{"a":12', 'broken: end is missing'],
    ['{\uFEFF', 'broken: a name is missing'],
    ['{a:1}', 'broken: a name is missing'],
    ['{"a":1,}', 'broken: a name is missing'],
    ['{"a" 1}', 'broken: a colon is missing'],
    ['{"a":1 "b":2}', 'broken: a comma is missing'],
    ['{"a":{}]', 'broken: a comma is missing'],
    ['{"list":[1 2]}', 'broken: a comma is missing'],
    ['{"list":[1,]}', 'broken: list[1]'],
    ['{"list":{}}', 'wrong content: list: no list'],
    ['{"a":tru}', 'broken: a'],
    ['{"list":[1,tru]}', 'broken: list[1]'],
    ['{"a":x"y"}', 'broken: a stray quote'],
    ['{"a":1,"a":2}', 'wrong content: a: twice'],
    [`{"${'n'.repeat(50)}":1,"${'n'.repeat(50)}":2}`, `wrong content: ${'n'.repeat(40)}: twice`],
    [`{"${'n'.repeat(50)}":tru}`, `broken: ${'n'.repeat(40)}`],
  ])('%s', async (text, why) => {
    expect(await read(text)).toBe(why)
  })

  test('as are values that are too long, deep or full, and what just fits is not', async () => {
    const both = async (
      limits: Partial<MemberLimits>,
      inside: string,
      outside: string,
      why: string,
    ) => {
      expect(await read(inside, limits)).toBeInstanceOf(Array)
      expect(await read(outside, limits)).toBe(`too large: ${why}`)
    }
    await both({ memberCharacters: 4 }, '{"a":1234}', '{"a":12345}', 'a')
    await both({ recordCharacters: 4 }, '{"list":[1,1234]}', '{"list":[1,12345]}', 'list[1]')
    // Each list has its own bound, that of other members is another.
    await both({ memberCharacters: 6 }, '{"list":[1234567]}', '{"a":1234567}', 'a')
    // The object and the list around it are two levels.
    await both({ depth: 4 }, '{"list":[[[]]]}', '{"list":[[[[]]]]}', 'list[0]: too deep')
    await both({ depth: 4 }, '{"a":{"b":[]}}', '{"a":{"b":[{}]}}', 'a: too deep')
    await both(
      { containers: 3 },
      '{"list":[[[],[]],[[],[]]]}',
      '{"list":[[[],[],[]]]}',
      'list[0]: too many',
    )
    await both(
      { membersOfObject: 2 },
      '{"list":[{"a":1,"b":{"c":1,"d":"::"}},{"a":1,"b":2}]}',
      '{"list":[{"a":1,"b":2,"c":3}]}',
      'list[0]: too many names',
    )
    // Another object at the same depth begins to count anew.
    expect(
      await read('{"list":[[{"a":1,"b":2},{"a":1,"b":2}]]}', { membersOfObject: 2 }),
    ).toHaveLength(1)
    const names = (count: number) =>
      `{${Array.from({ length: count }, (_, i) => `"n${i}":1`).join(',')}}`
    await both({}, names(100), names(101), 'names')
  })

  test('while empty lists and objects, and values of all kinds, are given with their places', async () => {
    expect(await read('{}')).toEqual([])
    // All blanks that JSON has (RFC 8259, 2).
    expect(await read('{\r\n\t"a" :\r1\r,"list":\r[\r]\r}\r\n')).toEqual([
      { name: 'a', index: null, value: 1 },
    ])
    expect(await read('{"list":[]}')).toEqual([])
    expect(await read('{"a":-1.5e3,"list":[null,"x\\"]}",{"b":[1]}],"c":"\\\\"}')).toEqual([
      { name: 'a', index: null, value: -1500 },
      { name: 'list', index: 0, value: null },
      { name: 'list', index: 1, value: 'x"]}' },
      { name: 'list', index: 2, value: { b: [1] } },
      { name: 'c', index: null, value: '\\' },
    ])
  })
})

describe('the records of a file', () => {
  const KIT = {
    version: 1,
    id: '00000000-0000-4000-8000-00000000000a',
    kind: 'lamp',
    addedAt: '2025-03-01T10:00:00Z',
    simulated: false,
    demo: false,
    name: 'Lamp',
    date: { iso: '2025-03-01T10:00:00Z', zone: '' },
    notes: '',
    cameraId: null,
    balanceState: null,
    temperatureK: null,
    standardUncertaintyK: null,
    data: null,
  }
  async function records(file: object) {
    async function* chunks() {
      yield JSON.stringify(file)
    }
    const found: unknown[] = []
    const reading = (async () => {
      for await (const one of recordsOf(chunks())) found.push(one)
      return found
    })()
    return reading.catch(async () => {
      const why = await refusal(reading)
      return 'where' in why ? `${why.code}: ${why.where}` : why.code
    })
  }
  const ours = { schema: 'glowbook-log', version: 2 }

  test('are readings and things of the kit', async () => {
    expect(await records({ ...ours, readings: [SAMPLE_READING], kit: [KIT] })).toEqual([
      { kind: 'reading', reading: SAMPLE_READING },
      { kind: 'kit', item: KIT },
    ])
  })

  test('are refused with list, number and field', async () => {
    const kit = (...all: unknown[]) => records({ ...ours, kit: all })
    const readings = (...all: unknown[]) => records({ ...ours, readings: all })
    expect(await kit(KIT, { ...KIT, name: 7 })).toMatch(/^wrong content: kit\[1\]\.name: /)
    expect(await kit({ ...KIT, constructor: 1 })).toBe('wrong content: kit[0]: forbidden name')
    const { version: _, ...former } = KIT
    expect(await kit(former)).toMatch(/^wrong content: kit\[0\]\.version: /)
    expect(await readings(SAMPLE_READING, { ...SAMPLE_READING, notes: 7 })).toMatch(
      /^wrong content: readings\[1\]\.notes: /,
    )
    expect(await readings(null)).toMatch(/^wrong content: readings\[0\]\./)
  })

  test('need schema and version, wherever these stand', async () => {
    expect(await records({ readings: [], ...ours })).toEqual([])
    expect(await records({ schema: 'glowbook-log', readings: [] })).toBe('not ours')
    expect(await records({ version: 2, readings: [] })).toBe('not ours')
    expect(await records({ ...ours, schema: 'glowbook' })).toBe('not ours')
    expect(await records({ ...ours, version: 3 })).toBe('newer version')
  })

  test('are text in UTF-8, also where a letter is cut in two', async () => {
    const bytes = new TextEncoder().encode('größer')
    async function* cut(at: number, end = bytes.length) {
      yield bytes.subarray(0, at)
      yield bytes.subarray(at, end)
    }
    for (let at = 0; at <= bytes.length; at++) {
      let text = ''
      for await (const part of textOf(cut(at))) text += part
      expect(text).toBe('größer')
    }
    const reading = (async () => {
      for await (const _ of textOf(cut(2, 3)));
    })()
    expect(await refusal(reading)).toEqual({ code: 'broken', where: 'no UTF-8' })
  })
})
