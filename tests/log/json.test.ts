import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { jsonMembers } from '../../src/log/import/json-members.ts'
import { RefusedFile } from '../../src/log/import/refused.ts'
import { canonicalText, type Json, jsonProblem } from '../../src/log/schema/json-value.ts'
import { withoutPlaces } from '../../src/log/store/blob-places.ts'

const LIMITS = {
  recordCharacters: 1e6,
  memberCharacters: 1e6,
  depth: 100,
  membersOfObject: 1000,
  containers: 1e6,
}

async function* pieces(text: string, cuts: readonly number[]): AsyncGenerator<string> {
  let at = 0
  for (const cut of [...cuts.map((c) => c % (text.length + 1)), text.length].sort(
    (a, b) => a - b,
  )) {
    yield text.slice(at, cut)
    at = cut
  }
}

/** What jsonMembers gives, put together again. */
async function gathered(text: string, cuts: readonly number[]): Promise<Record<string, unknown>> {
  const whole: Record<string, unknown> = Object.create(null)
  for await (const { name, index, value } of jsonMembers(pieces(text, cuts), ['list'], LIMITS)) {
    if (index === null) whole[name] = value
    else {
      if (index === 0) whole[name] = []
      const list = whole[name] as unknown[]
      expect(list).toHaveLength(index)
      list.push(value)
    }
  }
  return whole
}

const json = fc.jsonValue({ maxDepth: 4 }) as fc.Arbitrary<Json>
const cuts = fc.array(fc.nat(), { maxLength: 6 })

describe('a JSON object read as a stream', () => {
  it('gives what JSON.parse gives, however it is cut and laid out', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.dictionary(fc.string(), json, { maxKeys: 5 }),
        fc.array(json, { minLength: 1, maxLength: 5 }),
        cuts,
        fc.constantFrom(0, 2, '\t'),
        async (members, list, where, indent) => {
          const { list: _, ...rest } = members
          const text = JSON.stringify({ ...rest, list }, null, indent)
          const expected = JSON.parse(text) as Record<string, unknown>
          expect({ ...(await gathered(text, where)) }).toEqual(expected)
        },
      ),
    )
  })

  it('refuses everything that JSON.parse refuses', async () => {
    const base = '{"a": [1, {"b": "x\\"]}"}, -1.5e3], "list": [true, null, "", {}], "c": {}}'
    await fc.assert(
      fc.asyncProperty(
        fc.nat(base.length - 1),
        fc.constantFrom('', ',', '"', '{', '}', '[', ']', ':', '\\', '0', 't', ' ', 'x'),
        cuts,
        async (at, by, where) => {
          const text = base.slice(0, at) + by + base.slice(at + 1)
          let expected: unknown
          try {
            expected = JSON.parse(text)
          } catch {
            expected = undefined
          }
          try {
            const got = await gathered(text, where)
            expect(expected).toMatchObject(got)
          } catch (error) {
            // Stricter in one thing only: what should be a list must be one, and names once.
            if (!(error instanceof RefusedFile)) throw error
            if (expected !== undefined) expect(error.refusal.code).toBe('wrong content')
          }
        },
      ),
      { numRuns: 2000 },
    )
  })

  it('gives a record as soon as it has ended', async () => {
    let fed = 0
    async function* endless() {
      yield '{"list":['
      for (;;) {
        fed++
        yield `{"n":${fed}},`
      }
    }
    for await (const { value } of jsonMembers(endless(), ['list'], LIMITS)) {
      if ((value as { n: number }).n === 1000) break
    }
    expect(fed).toBe(1000)
  })
})

describe('plain data', () => {
  it('passes, and its text is one', () => {
    fc.assert(
      fc.property(json, (value) => {
        const forbidden = /"(__proto__|constructor|prototype)":/.test(JSON.stringify(value))
        expect(jsonProblem(value)).toBe(forbidden ? 'forbidden name' : null)
        // Through JSON, because it has no minus zero.
        expect(JSON.parse(canonicalText(value))).toEqual(JSON.parse(JSON.stringify(value)))
      }),
    )
  })

  it('is one text in whatever order its names stand', () => {
    expect(canonicalText({ b: 1, a: { d: [1, null], c: 'x' } })).toBe(
      canonicalText({ a: { c: 'x', d: [1, null] }, b: 1 }),
    )
  })

  it('is told apart from anything else without failing', () => {
    const circle: Record<string, unknown> = {}
    circle.self = circle
    const deep = JSON.parse(`${'['.repeat(5000)}${']'.repeat(5000)}`) as unknown
    expect(jsonProblem(circle)).toBe('too deep')
    expect(jsonProblem(deep)).toBe('too deep')
    expect(jsonProblem(new Array(2_000_000))).toBe('too large')
    expect(jsonProblem('x'.repeat(1_000_001))).toBe('too large')
    for (const wrong of [undefined, Number.NaN, 1n, () => 0, new Date(), new Map(), [undefined]]) {
      expect(jsonProblem(wrong)).toBe('not plain data')
    }
    expect(jsonProblem(JSON.parse('{"a":{"__proto__":1}}'))).toBe('forbidden name')
  })

  it('loses places at every depth and nothing else', () => {
    expect(
      withoutPlaces({
        exif: [{ GPSLatitude: 1, latitude: 2, ISO: 100 }],
        Longitude: 3,
        place: 'x',
      }),
    ).toEqual({ exif: [{ ISO: 100 }], place: 'x' })
  })
})
