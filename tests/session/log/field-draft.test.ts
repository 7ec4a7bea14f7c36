import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Editable } from '../../../src/log/schema/types.ts'
import {
  changesOfDraft,
  type FieldDraft,
  fieldDraftOf,
  resultByHand,
  tagsOf,
} from '../../../src/session/log/field-draft.ts'
import { typedNumber } from '../../../src/session/typed-number.ts'

const READING: Editable = {
  takenAt: { iso: '2026-03-14T15:09:26.535+01:00', zone: 'Europe/Vienna' },
  object: 'Kiln shelf',
  material: 'ceramic',
  notes: 'left edge',
  tags: ['firing', 'second heat'],
  series: 'run 4',
  supply: { volts: 231.456789, amperes: null, watts: 1200 },
  place: 'shed',
  roomTemperatureK: 294.372,
  cover: 'none',
}
const draft = fieldDraftOf(READING, 'C')
const changed = (
  part: Partial<FieldDraft>,
  figure: 'measured' | 'typed' | 'to be typed' = 'measured',
) => changesOfDraft(READING, draft, { ...draft, ...part }, 'C', figure)

describe('the fields of a reading', () => {
  test('left alone change nothing, though they show fewer digits', () => {
    expect(draft.room).toBe('21.2')
    expect(changed({})).toEqual({ ok: true, changes: {} })
  })

  test('change alone what was typed', () => {
    expect(changed({ object: ' Kiln shelf 2 ', room: '20' })).toEqual({
      ok: true,
      changes: { object: 'Kiln shelf 2', roomTemperatureK: 293.15 },
    })
    expect(changed({ watts: '1250' })).toEqual({
      ok: true,
      changes: { supply: { volts: 231.456789, amperes: null, watts: 1250 } },
    })
    expect(changed({ volts: '', watts: '' })).toEqual({ ok: true, changes: { supply: null } })
    expect(changed({ series: '' })).toEqual({ ok: true, changes: { series: null } })
    expect(changed({ series: ' run 5 ' })).toEqual({ ok: true, changes: { series: 'run 5' } })
    expect(changed({ series: '  ' })).toEqual({ ok: true, changes: { series: null } })
  })

  test('name each mistake at its field and change nothing then', () => {
    expect(changed({ volts: 'about 230', room: '-300', takenAt: '', watts: '-1' })).toEqual({
      ok: false,
      problems: {
        volts: 'no number',
        room: 'no such temperature',
        takenAt: 'no date',
        watts: 'not negative',
      },
    })
    expect(changed({ tags: 'x'.repeat(61) })).toEqual({
      ok: false,
      problems: { tags: 'too long' },
    })
  })

  test.each([
    [{ material: 'cavity' }, { material: 'cavity' }],
    [{ cover: 'glass' }, { cover: 'glass' }],
    [{ notes: ' right edge ' }, { notes: 'right edge' }],
    [{ place: ' barn ' }, { place: 'barn' }],
    [{ tags: 'firing' }, { tags: ['firing'] }],
    [{ room: ' ' }, { roomTemperatureK: null }],
    [{ volts: '12,5' }, { supply: { volts: 12.5, amperes: null, watts: 1200 } }],
    [{ amperes: '0' }, { supply: { volts: 231.456789, amperes: 0, watts: 1200 } }],
    [
      { takenAt: '2026-03-14T16:09' },
      { takenAt: expect.objectContaining({ zone: 'Europe/Vienna' }) },
    ],
  ])('%j is kept as that, and nothing beside it', (typed, kept) => {
    expect(changed(typed)).toEqual({ ok: true, changes: kept })
  })

  test('of a reading that states nothing are empty, and its supply is what is typed', () => {
    const bare: Editable = { ...READING, supply: null, series: null, roomTemperatureK: null }
    const before = fieldDraftOf(bare, 'C')
    const empty = [
      'volts',
      'amperes',
      'watts',
      'series',
      'room',
      'temperature',
      'plusMinus',
    ] as const
    expect(empty.map((name) => before[name])).toEqual(empty.map(() => ''))
    expect(changesOfDraft(bare, before, { ...before, watts: '60' }, 'C', 'measured')).toEqual({
      ok: true,
      changes: { supply: { volts: null, amperes: null, watts: 60 } },
    })
  })

  test('refuse what no meter shows and no ± is, each at its field', () => {
    const problems = (part: Partial<FieldDraft>) => {
      const found = changed({ temperature: '850', plusMinus: '10', ...part }, 'typed')
      return found.ok ? null : found.problems
    }
    expect(problems({})).toBeNull()
    // More than any supply of a workshop, and than anything glows by.
    expect(problems({ amperes: '1'.repeat(12) })).toEqual({ amperes: 'no such value' })
    expect(problems({ temperature: '999999' })).toEqual({ temperature: 'no such temperature' })
    expect(problems({ plusMinus: '-1' })).toEqual({ plusMinus: 'not negative' })
    expect(problems({ plusMinus: '9999999' })).toEqual({ plusMinus: 'no such uncertainty' })
    expect(problems({ plusMinus: 'some' })).toEqual({ plusMinus: 'no number' })
    expect(problems({ plusMinus: '0' })).toBeNull()
    expect(problems({ room: 'warm' })).toEqual({ room: 'no number' })
  })

  test('leave a measured figure alone, and one by hand that nobody has changed', () => {
    const typed = { temperature: '900', plusMinus: '10' }
    expect(changed(typed, 'measured')).toEqual({ ok: true, changes: {} })
    expect(changed({ object: 'lid' }, 'typed')).toEqual({ ok: true, changes: { object: 'lid' } })
    for (const part of [typed, { ...typed, plusMinus: '5' }]) {
      const found = changed(part, 'typed')
      expect(found.ok && found.changes.result).toMatchObject({ temperatureK: 1173.15 })
    }
    const photo = { ...READING, method: 'photo' as const, result: resultByHand(1123.15, 10.5) }
    expect(fieldDraftOf(photo, 'C')).toMatchObject({ temperature: '', plusMinus: '' })
    const none = { kind: 'none', reason: 'clipped', methodVersion: '1' } as const
    const byHand = { ...READING, method: 'by hand' as const, result: none }
    expect(fieldDraftOf(byHand, 'C')).toMatchObject({ temperature: '', plusMinus: '' })
  })

  test('of a reading by hand ask for a temperature and its ±', () => {
    expect(changed({}, 'to be typed')).toEqual({
      ok: false,
      problems: { temperature: 'no number', plusMinus: 'no number' },
    })
    const found = changed({ temperature: '850', plusMinus: '10,5' }, 'to be typed')
    expect(found.ok && found.changes.result).toEqual(resultByHand(1123.15, 10.5))
  })

  test('in °F give the same kelvins: 1562 °F ± 18 °F are 1123.15 K ± 10 K', () => {
    // SI Brochure 9: 9 °F span 5 K, 32 °F is 273.15 K.
    const before = fieldDraftOf(READING, 'F')
    const typed = { ...before, temperature: '1562', plusMinus: '18' }
    const found = changesOfDraft(READING, before, typed, 'F', 'to be typed')
    expect(found.ok && found.changes.result).toMatchObject({
      temperatureK: 1123.15,
      expandedUncertaintyK: 10,
      standardUncertaintyK: 5,
    })
  })

  test('show a temperature by hand as it was typed', () => {
    const byHand = { ...READING, method: 'by hand' as const, result: resultByHand(1123.15, 10.5) }
    expect(fieldDraftOf(byHand, 'C')).toMatchObject({ temperature: '850', plusMinus: '10.5' })
  })
})

describe('tags', () => {
  test('are written once each, without blanks', () => {
    expect(tagsOf(' firing,, second heat , firing')).toEqual(['firing', 'second heat'])
  })
})

describe('a typed number', () => {
  test('may have a comma, a point, a sign and blanks', () => {
    expect(typedNumber(' 12,5 ')).toBe(12.5)
    expect(typedNumber('.5')).toBe(0.5)
    expect(typedNumber('−3')).toBe(-3)
  })

  test('is not guessed', () => {
    for (const text of ['', '1,200.5', '1 200', '12 V', '1e3', 'NaN', '0x10', '--1']) {
      expect(typedNumber(text)).toBeNull()
    }
  })

  test('comes back from any decimal that people write', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e7, max: 1e7 }), fc.integer({ min: 0, max: 4 }), (n, d) => {
        const value = n / 10 ** d
        expect(typedNumber(value.toFixed(d).replace('.', ','))).toBeCloseTo(value, 10)
      }),
    )
  })
})

describe('tags that can be kept', () => {
  const tagged = (count: number, length: number) =>
    changed({
      tags: Array.from({ length: count }, (_, i) => `${i}`.padEnd(length, 'x')).join(', '),
    }).ok

  test('are forty, of sixty characters each', () => {
    expect(tagged(40, 60)).toBe(true)
    expect(tagged(41, 60)).toBe(false)
    expect(tagged(1, 61)).toBe(false)
  })
})
