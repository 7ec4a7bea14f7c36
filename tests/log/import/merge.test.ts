import { describe, expect, test } from 'vitest'
import { mergedReading, relationOf, sameItem } from '../../../src/log/import/merge.ts'
import type { Reading } from '../../../src/log/schema/types.ts'
import { SAMPLE_READING } from '../../screens/stored-samples.ts'
import { temperatureResult } from '../opening.ts'

const PLAIN: Reading = { ...SAMPLE_READING, picture: null, history: [], recomputations: [] }
const picture = { type: 'image/png', width: 1, height: 1, bytes: 1, crc32: 1 } as const
const edit = (at: string, notes: string) => ({ at, values: { notes } })
const recomputation = (at: string) => ({
  at,
  reason: 'newer method',
  result: temperatureResult(1200),
  inputs: null,
  details: null,
})
const AT = '2026-04-01T00:00:00.000Z'

describe('two versions of a reading', () => {
  test('are the same in whatever order their fields stand, with a picture or without', () => {
    const turned = Object.fromEntries(Object.entries(PLAIN).reverse()) as unknown as Reading
    expect(relationOf(PLAIN, turned)).toBe('same')
    expect(relationOf(PLAIN, { ...PLAIN, picture })).toBe('same')
  })

  test('conflict where they were edited or recomputed', () => {
    for (const change of [
      { object: 'other' },
      { takenAt: { iso: '2026-03-02T10:00:00.000+01:00', zone: '' } },
      { history: [edit(AT, '')] },
      { recomputations: [recomputation(AT)] },
    ])
      expect(relationOf(PLAIN, { ...PLAIN, ...change })).toBe('conflicting')
    expect(relationOf(PLAIN, { ...PLAIN, notes: 'other', picture })).toBe('conflicting')
  })

  test('are of two measurements where what was measured differs', () => {
    const result = temperatureResult(999)
    for (const change of [{ result }, { method: 'raw' }, { inputs: 7 }, { savedAt: AT }] as const)
      expect(relationOf(PLAIN, { ...PLAIN, ...change })).toBe('foreign')
    // One entered by hand may have been corrected.
    const byHand: Reading = { ...PLAIN, method: 'by hand' }
    expect(relationOf(byHand, { ...byHand, result })).toBe('conflicting')
  })
})

describe('two versions that become one', () => {
  test('have the values of the file, those from here in the history, and what both were recomputed to', () => {
    const mine = {
      ...PLAIN,
      notes: 'mine',
      object: 'mine too',
      picture,
      history: [edit('2026-03-03T00:00:00Z', 'third'), edit('2026-03-01T00:00:00Z', 'first')],
      recomputations: [recomputation('2026-03-05T00:00:00Z')],
    }
    const theirs = {
      ...PLAIN,
      notes: 'theirs',
      object: 'mine too',
      history: [edit('2026-03-02T00:00:00Z', 'second'), edit('2026-03-01T00:00:00Z', 'first')],
      recomputations: [
        recomputation('2026-03-04T00:00:00Z'),
        recomputation('2026-03-05T00:00:00Z'),
      ],
    }
    const merged = mergedReading(mine, theirs, AT)
    expect(merged).toMatchObject({ notes: 'theirs', object: 'mine too', picture })
    expect(merged.history).toEqual([
      edit('2026-03-01T00:00:00Z', 'first'),
      edit('2026-03-02T00:00:00Z', 'second'),
      edit('2026-03-03T00:00:00Z', 'third'),
      edit(AT, 'mine'),
    ])
    expect(merged.recomputations.map(({ at }) => at.slice(8, 10))).toEqual(['04', '05'])
  })

  test('have no edit more where no value differs', () => {
    const theirs = { ...PLAIN, history: [edit('2026-03-01T00:00:00Z', 'before')], picture }
    const other = { ...picture, crc32: 2 }
    const merged = mergedReading({ ...PLAIN, picture: other }, theirs, AT)
    expect(merged).toEqual(theirs)
  })

  test('of one entered by hand keep the result that is replaced', () => {
    const [mine, theirs] = [1000, 1100].map(
      (at): Reading => ({ ...PLAIN, method: 'by hand', result: temperatureResult(at) }),
    )
    const merged = mergedReading(mine!, theirs!, AT)
    expect(merged.result).toEqual(temperatureResult(1100))
    expect(merged.history).toEqual([{ at: AT, values: { result: temperatureResult(1000) } }])
  })
})

test('things of the kit are the same by their content alone', () => {
  expect(sameItem({ b: 1, a: 2 }, { a: 2, b: 1 } as never)).toBe(true)
  expect(sameItem({ a: 2 }, { a: 3 } as never)).toBe(false)
})
