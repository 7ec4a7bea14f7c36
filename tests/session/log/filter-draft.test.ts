import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  draftOfFilter,
  EMPTY_DRAFT,
  filterOfDraft,
  ORIGINS,
  originOf,
  partsOfFilter,
} from '../../../src/session/log/filter-draft.ts'
import { filterWords } from '../../../src/ui/words/log.ts'

const day = fc
  .integer({ min: 0, max: 20_000 })
  .map((n) => new Date(Date.UTC(2000, 0, 1 + n)).toISOString().slice(0, 10))
const optional = (strings: fc.Arbitrary<string>) => fc.oneof(fc.constant(''), strings)
const degrees = fc.integer({ min: 0, max: 3000 }).map(String)
const drafts = fc.record({
  fromDay: optional(day),
  toDay: optional(day),
  object: fc.string(),
  tag: fc.string(),
  material: fc.string(),
  series: fc.string(),
  methods: fc.uniqueArray(fc.constantFrom('photo' as const, 'raw' as const, 'by eye' as const)),
  fromTemperature: optional(degrees),
  toTemperature: optional(degrees),
  origin: fc.constantFrom(...ORIGINS),
})

describe('a filter', () => {
  test('that was not set narrows nothing', () => {
    expect(filterOfDraft(EMPTY_DRAFT, '  ', 'C')).toEqual({})
  })

  test('takes both days whole', () => {
    const filter = filterOfDraft(
      { ...EMPTY_DRAFT, fromDay: '2026-03-14', toDay: '2026-03-14' },
      '',
      'C',
    )
    expect(new Date(filter.fromMs!).getHours()).toBe(0)
    expect(filter.toMs! - filter.fromMs!).toBe(24 * 3_600_000 - 1)
  })

  test('counts temperatures in the unit that was typed: 800 °C are 1073.15 K', () => {
    // SI Brochure 9, 2.3.1.
    const filter = filterOfDraft({ ...EMPTY_DRAFT, fromTemperature: '800' }, '', 'C')
    expect(filter).toEqual({ fromK: 1073.15 })
  })

  test('comes back as it was set, in any unit', () => {
    fc.assert(
      fc.property(
        drafts,
        fc.constantFrom('C' as const, 'F' as const, 'K' as const),
        (draft, unit) => {
          expect(draftOfFilter(filterOfDraft(draft, '', unit), unit)).toEqual(draft)
        },
      ),
    )
  })

  test('loses with each chip that one thing, and is empty without all of them', () => {
    fc.assert(
      fc.property(drafts, (draft) => {
        const filter = filterOfDraft(draft, 'words', 'C')
        const parts = partsOfFilter(filter)
        let left = filter
        for (const { kind, without } of parts) {
          expect(filterWords(kind, filter, (ms) => String(ms))).not.toBe(undefined)
          expect(partsOfFilter(without).map((part) => part.kind)).not.toContain(kind)
          left = partsOfFilter(left).find((part) => part.kind === kind)!.without
        }
        expect(left).toEqual({ text: 'words' })
      }),
    )
  })

  test('that leaves out what is made up, or simulated, is of what was measured', () => {
    expect(originOf({ simulated: false })).toBe('measured')
    expect(originOf({ demo: false })).toBe('measured')
    expect(originOf({ simulated: true, demo: true })).toBe('made up')
    expect(originOf({ demo: true, damaged: true })).toBe('damaged')
    expect(originOf({})).toBe('all')
  })

  test('knows where its readings come from', () => {
    for (const origin of ORIGINS) {
      expect(originOf(filterOfDraft({ ...EMPTY_DRAFT, origin }, '', 'C'))).toBe(origin)
    }
  })
})
