import { expect, test } from 'vitest'
import { canonicalText, jsonProblem } from '../../../src/log/schema/json-value.ts'

const within = (value: unknown, characters: number, depth = 9) =>
  jsonProblem(value, { depth, characters })

test('a value is as large as its JSON text, roughly, and may be just so large', () => {
  // Text and two quotes; a number 8, null and booleans 5; brackets 2, and one for each element;
  // a name with quotes, colon and comma.
  for (const [value, characters] of [
    ['abc', 5],
    [1.5, 8],
    [null, 5],
    [true, 5],
    [[], 2],
    [{}, 2],
    [[1, 'a'], 2 + 2 + 8 + 3],
    [{ ab: 1 }, 2 + 2 + 4 + 8],
    [{ a: { b: [] } }, 2 + 5 + 2 + 5 + 2],
  ] as const) {
    expect(within(value, characters), JSON.stringify(value)).toBeNull()
    expect(within(value, characters - 1), JSON.stringify(value)).toBe('too large')
  }
})

test('a list longer than allowed is refused before it is walked through', () => {
  let read = 0
  const elements = {
    get(of: unknown[], name: string | symbol) {
      if (typeof name === 'string' && /^\d/.test(name)) read++
      return Reflect.get(of, name) as unknown
    },
  }
  expect(within(new Proxy(new Array(99), elements), 100)).toBe('too large')
  expect(read).toBe(0)
  // Just as long: looked at, and what stands there is no data.
  expect(within(new Proxy(new Array(98), elements), 100)).toBe('not plain data')
  expect(read).toBeGreaterThan(0)
})

test('a value is as deep as its containers, a bare one has no depth', () => {
  expect(within(1, 99, 0)).toBeNull()
  expect(within([], 99, 0)).toBe('too deep')
  expect(within([1], 99, 1)).toBeNull()
  expect(within({ a: [1] }, 99, 2)).toBeNull()
  expect(within({ a: [[1]] }, 99, 2)).toBe('too deep')
  expect(within([{ a: { b: 1 } }], 99, 2)).toBe('too deep')
})

test('an object has at most 2000 members, whatever holds it', () => {
  const named = (count: number) =>
    Object.fromEntries(Array.from({ length: count }, (_, i) => [`n${i}`, null]))
  expect(jsonProblem([named(2000)])).toBeNull()
  expect(jsonProblem([named(2001)])).toBe('too large')
})

test('an object without a prototype is one, a thing of another kind is none', () => {
  expect(jsonProblem(Object.assign(Object.create(null), { a: 1 }))).toBeNull()
  for (const wrong of [new Date(0), new Map(), Object.create({ a: 1 }), Number.POSITIVE_INFINITY])
    expect(jsonProblem({ a: wrong })).toBe('not plain data')
})

test('one text stands for one value: names sorted at every depth, lists as they are', () => {
  expect(canonicalText({ b: [2, 1, null], a: { d: 'x"', c: true } })).toBe(
    '{"a":{"c":true,"d":"x\\""},"b":[2,1,null]}',
  )
  expect(canonicalText([])).toBe('[]')
  expect(canonicalText({})).toBe('{}')
})
