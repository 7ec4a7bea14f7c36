import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import {
  dueForBackup,
  headOf,
  idOfRow,
  issueText,
  kitItemOf,
  packed,
  type ReadingRow,
  rawText,
  savedAtMs,
  unpacked,
} from '../../../src/log/index/rows.ts'
import { textCheck } from '../../../src/log/schema/text-check.ts'
import type { Reading } from '../../../src/log/schema/types.ts'
import { SAMPLE_READING } from '../../screens/stored-samples.ts'
import { temperatureResult } from '../opening.ts'

const again = (inputs: number | null, details: number | null) => ({
  at: '2026-03-02T00:00:00Z',
  reason: 'newer method',
  result: temperatureResult(1200),
  inputs,
  details,
})
const BARE: Reading = { ...SAMPLE_READING, inputs: null, details: null, recomputations: [] }

function rowOf(reading: Reading) {
  const { parts, inputs } = packed(reading)
  return { seq: 3, id: reading.id, ...parts, inputs: inputs === '' ? undefined : inputs }
}
const whereOf = (row: Parameters<typeof unpacked>[0]) => {
  const stored = unpacked(row)
  return stored.state === 'damaged' ? stored.damage.where : stored.state
}

describe('a reading as rows', () => {
  test('comes back whole, its inputs and those of its recomputations each in their place', () => {
    for (const reading of [
      BARE,
      { ...BARE, inputs: { a: 1 } },
      { ...BARE, details: [2] },
      { ...BARE, recomputations: [again(null, null), again(1, 2), again(null, 3)] },
      { ...BARE, inputs: 'i', details: 'd', recomputations: [again(4, null)] },
    ] as Reading[]) {
      const row = rowOf(reading)
      expect(unpacked(row)).toEqual({ state: 'sound', reading })
      expect(headOf(row)).toEqual({
        state: 'sound',
        reading: {
          ...reading,
          inputs: null,
          details: null,
          recomputations: reading.recomputations.map((one) => ({
            ...one,
            inputs: null,
            details: null,
          })),
        },
      })
    }
    expect(packed(BARE)).toEqual({
      parts: { json: JSON.stringify(BARE), check: textCheck(JSON.stringify(BARE)) },
      inputs: '',
    })
    expect(packed({ ...BARE, details: 7 }).inputs).toBe('[null,7]')
  })

  test('is damaged where something of it is missing or another’s', () => {
    const row = rowOf({ ...BARE, inputs: 1, recomputations: [again(1, 2)] })
    expect(whereOf(row)).toBe('sound')
    expect(whereOf({ ...row, inputs: undefined })).toBe('inputs: missing')
    expect(whereOf({ ...row, inputs: '[1,null,1,3]' })).toBe('inputs: check sum')
    for (const inputs of ['[1,null,1]', '[1,null,1,2,3]', '{"length":4}', '[1'])
      expect(whereOf({ ...row, inputs, inputsCheck: textCheck(inputs) })).toBe('inputs: check sum')
    expect(whereOf({ ...row, id: 'other' })).toBe('id: not that of its row')
    expect(whereOf({ ...row, check: row.check + 1 })).toBe('check sum')
    const json = row.json.replace('"forge bar"', '7')
    expect(whereOf({ ...row, json })).toMatch(/^object: /)
    const cold = row.json.replace(/"temperatureK":\d+/, '"temperatureK":1')
    expect(whereOf({ ...row, json: cold, check: textCheck(cold) })).toMatch(/temperatureK/)
  })

  test('that is damaged is told with all that is left, opened as far as it can be', () => {
    const row = rowOf({ ...BARE, inputs: { a: 1 } })
    const stored = unpacked({ ...row, inputs: '{"a":2}' })
    const raw = JSON.parse(stored.state === 'damaged' ? stored.damage.raw : '') as object
    expect(raw).toMatchObject({ seq: 3, json: { object: 'forge bar' }, inputs: { a: 2 } })
    const torn = unpacked({ ...row, json: '{', inputs: '[' })
    expect(torn).toMatchObject({ state: 'damaged', damage: { id: row.id } })
    expect(JSON.parse(torn.state === 'damaged' ? torn.damage.raw : '')).toMatchObject({
      json: '{',
      inputs: '[',
    })
  })
})

test('a row without an id is called by its number', () => {
  const row = { seq: 7, id: 'a' } as ReadingRow
  expect(idOfRow(row)).toBe('a')
  expect(idOfRow({ ...row, id: '' })).toBe('row 7')
  expect(idOfRow({ ...row, id: 5 as never })).toBe('row 7')
})

test('a row says when it was saved, or nothing', () => {
  const of = (json: unknown) => savedAtMs({ json } as ReadingRow)
  expect(of(JSON.stringify(BARE))).toBe(Date.parse(BARE.savedAt))
  for (const json of ['null', '{', '{"savedAt":5}', undefined]) expect(of(json)).toBeNaN()
})

test('a backup should hold what was measured: no practice, no example', () => {
  for (const [simulated, demo, due] of [
    [false, false, true],
    [true, false, false],
    [false, true, false],
  ] as const)
    expect(dueForBackup({ simulated, demo })).toBe(due)
})

test('an item of the kit that is none is told with place and text', () => {
  expect(kitItemOf({ id: 'a', item: { version: 1, id: 7n } })).toEqual({
    id: 'a',
    where: expect.stringMatching(/^id: /) as string,
    raw: rawText({ version: 1, id: 7n }),
  })
})

test('anything is told as text', () => {
  expect(JSON.parse(rawText({ a: 7n, b: Number.NaN, c: new ArrayBuffer(5), d: [1.5] }))).toEqual({
    a: '7n',
    b: 'NaN',
    c: '5 bytes',
    d: [1.5],
  })
  expect(rawText({ a: 1 })).toBe('{\n  "a": 1\n}')
  const circle: Record<string, unknown> = {}
  circle.self = circle
  expect(JSON.parse(rawText(circle))).toEqual({
    unreadable: expect.stringMatching(/circular/) as string,
  })
})

test('what a schema says is told with its place, of the whole without one', () => {
  const issues = (value: unknown) =>
    v.safeParse(v.object({ a: v.array(v.number('no number')) }, 'no object'), value).issues ?? []
  expect(issueText(issues({ a: [1, 'x'] }))).toBe('a.1: no number')
  expect(issueText(issues(7))).toBe('no object')
  expect(issueText([])).toBe('')
})
