import { describe, expect, test } from 'vitest'
import {
  digestOf,
  flagsOf,
  lineOf,
  summaryFromLine,
  summaryOf,
  summaryOfDamaged,
  wholeMaterial,
  wholeObject,
  wholeSeries,
  wholeTag,
} from '../../../src/log/index/summary.ts'
import { makeIndex, needlesOf } from '../../../src/log/index/summary-index.ts'
import { type Reading, UNSAID } from '../../../src/log/schema/reading-schema.ts'
import type { Result, Summary } from '../../../src/log/schema/types.ts'
import { wholeReading } from '../../../src/log/schema/whole-reading.ts'
import { withSlots } from '../../../src/log/store/blocks.ts'
import { draft, temperatureResult } from '../opening.ts'

const GIVEN = {
  id: '00000000-0000-4000-8000-000000000001',
  savedAt: '2025-03-01T10:00:00.000Z',
  takenAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: 'Europe/Vienna' },
}
const reading = (changes: Partial<Reading> = {}): Reading => ({
  ...wholeReading(draft(), GIVEN),
  ...changes,
})
const bound: Result = { kind: 'upper bound', temperatureK: 880, methodVersion: '2' }
const none: Result = { kind: 'none', reason: 'clipped', methodVersion: '3' }
const again = (result: Result) => ({
  at: GIVEN.savedAt,
  reason: '',
  result,
  inputs: null,
  details: null,
})

describe('a reading in one line', () => {
  test('is as it was saved, with nothing that nobody said', () => {
    expect(wholeReading(draft(), GIVEN)).toEqual({
      version: 2,
      ...GIVEN,
      ...UNSAID,
      method: 'photo',
      simulated: false,
      demo: false,
      result: temperatureResult(1173),
      object: 'Kiln shelf',
      chromaticity: null,
      swatch: null,
      picture: null,
      parts: [],
      inputs: null,
      details: null,
      history: [],
      recomputations: [],
    })
    expect(summaryOf(reading())).toEqual({
      id: GIVEN.id,
      takenAt: GIVEN.takenAt.iso,
      zone: 'Europe/Vienna',
      takenAtMs: Date.parse('2025-03-01T10:00:00Z'),
      method: 'photo',
      simulated: false,
      demo: false,
      damaged: false,
      kind: 'temperature',
      temperatureK: 1173,
      standardUncertaintyK: 10,
      expandedUncertaintyK: 20,
      interval95K: [1153, 1193],
      object: 'Kiln shelf',
      material: '',
      tags: [],
      series: null,
      notes: '',
      volts: null,
      watts: null,
      swatch: null,
      hasPicture: false,
      edited: false,
      recomputed: false,
      methodVersion: '1',
      movedK: null,
    })
  })

  test('shows what has been added to it', () => {
    const full = reading({
      supply: { volts: 12, amperes: 2, watts: 24 },
      picture: { type: 'image/png', width: 1, height: 1, bytes: 1, crc32: 1 },
      history: [{ at: GIVEN.savedAt, values: { notes: '' } }],
      recomputations: [again(temperatureResult(1180, 5))],
      notes: `${'n'.repeat(120)}and more`,
    })
    expect(summaryOf(full)).toMatchObject({
      volts: 12,
      watts: 24,
      hasPicture: true,
      edited: true,
      recomputed: true,
      temperatureK: 1180,
      standardUncertaintyK: 5,
      notes: 'n'.repeat(120),
      movedK: 7,
    })
  })

  test('has of a bound its value alone, and of no figure nothing', () => {
    const nothing = { standardUncertaintyK: null, expandedUncertaintyK: null, interval95K: null }
    const of = (result: Result) => summaryOf(reading({ result }))
    expect(of(bound)).toMatchObject({ kind: 'upper bound', temperatureK: 880, ...nothing })
    expect(of(none)).toMatchObject({
      kind: 'none',
      temperatureK: null,
      ...nothing,
      methodVersion: '3',
    })
  })

  test('has moved by its last recomputation, from the one before, where both have a value', () => {
    const moved = (...results: Result[]) =>
      summaryOf(reading({ result: results[0]!, recomputations: results.slice(1).map(again) }))
        .movedK
    const at = temperatureResult
    expect(moved(at(1000))).toBeNull()
    expect(moved(at(1000), at(1010))).toBe(10)
    expect(moved(at(1000), at(1010), at(1005))).toBe(-5)
    expect(moved(bound, at(1010))).toBe(130)
    expect(moved(none, at(1010))).toBeNull()
    expect(moved(at(1000), none)).toBeNull()
  })

  test('of one that never was readable invents nothing', () => {
    const { id, takenAtMs, damaged, kind, ...rest } = summaryOfDamaged('row 7', 5)
    expect([id, takenAtMs, damaged, kind]).toEqual(['row 7', 5, true, 'none'])
    expect(rest).toEqual({
      takenAt: '',
      zone: '',
      method: 'by hand',
      simulated: false,
      demo: false,
      temperatureK: null,
      standardUncertaintyK: null,
      expandedUncertaintyK: null,
      interval95K: null,
      object: '',
      material: '',
      tags: [],
      series: null,
      notes: '',
      volts: null,
      watts: null,
      swatch: null,
      hasPicture: false,
      edited: false,
      recomputed: false,
      methodVersion: '',
      movedK: null,
    })
  })

  test('comes back with each of its marks by itself', () => {
    const plain = summaryOf(reading())
    for (const name of [
      'simulated',
      'demo',
      'damaged',
      'hasPicture',
      'edited',
      'recomputed',
    ] as const) {
      const marked: Summary = { ...plain, [name]: true }
      expect(summaryFromLine(lineOf(marked), flagsOf(marked)), name).toEqual(marked)
    }
    // A method of a later version reads as the plainest.
    expect(summaryFromLine(lineOf(plain), 31).method).toBe('by hand')
  })
})

describe('what is searched', () => {
  const summary: Summary = {
    ...summaryOf(reading()),
    object: 'Öfen',
    material: 'Steel',
    tags: ['One', 'two'],
    series: 'Run',
  }
  const digest = digestOf(summary, 'All Notes')

  test('has each whole name, and no part of one for it', () => {
    for (const needle of [
      wholeObject('ofen'),
      wholeMaterial('STEEL'),
      wholeTag('one'),
      wholeTag('Two'),
      wholeSeries('run'),
    ])
      expect(digest).toContain(needle)
    for (const needle of [
      wholeObject('ofe'),
      wholeObject('fen'),
      wholeObject('steel'),
      wholeMaterial('stee'),
      wholeTag('on'),
      wholeTag('steel'),
      wholeTag('run'),
      wholeSeries('ru'),
      wholeSeries('all notes'),
    ])
      expect(digest).not.toContain(needle)
    expect(digest.endsWith('all notes')).toBe(true)
    expect(digestOf({ ...summary, series: null }, '')).toContain(wholeSeries(''))
  })

  test('is each word, at most 255 of them', () => {
    expect(needlesOf({ text: '  Ofen  two ', tag: 'One' })).toEqual([
      'ofen',
      'two',
      wholeTag('one'),
    ])
    expect(needlesOf({})).toEqual([])
    expect(needlesOf({ text: 'a '.repeat(300) })).toHaveLength(255)
  })

  test('is found by more words than a text has, where they all occur', () => {
    const slots = new Map([[3, { summary, notes: 'x '.repeat(10) }]])
    const index = makeIndex([withSlots(0, undefined, slots)])
    expect(index.find({ text: 'x '.repeat(300) }).count).toBe(1)
    expect(index.find({ text: `${'x '.repeat(200)} y` }).count).toBe(0)
  })
})

describe('a view of the log', () => {
  const at = (n: number): Summary => ({ ...summaryOf(reading()), id: `${n}`, takenAtMs: n })
  const slots = new Map([0, 1, 2].map((n) => [n, { summary: at(n), notes: '' }]))
  const view = makeIndex([withSlots(0, undefined, slots)]).find()

  test('gives one after the other, or some of them', () => {
    expect(view.ids()).toEqual(['2', '1', '0'])
    expect(view.ids(1)).toEqual(['1', '0'])
    expect(view.ids(0, 2)).toEqual(['2', '1'])
    expect(view.summaries(1, 2)).toEqual([at(1)])
    expect(view.at(2)).toEqual(at(0))
  })

  test('has no place beyond its end', () => {
    expect(() => view.at(3)).toThrow('position 3 of 3')
    expect(view.ids(3)).toEqual([])
  })
})
