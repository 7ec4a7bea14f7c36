import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { instant, moment, tags } from '../../../src/log/schema/fields.ts'
import { deviceZone, momentOf, msOf } from '../../../src/log/schema/moment.ts'
import { momentFromWallClock, wallClock } from '../../../src/log/schema/wall-clock.ts'

// Offsets of the tz database on 15 January 2025, 12:00 UTC.
const NOON = new Date('2025-01-15T12:00:00.250Z')

describe('a moment on the clock of a zone', () => {
  test.each([
    ['UTC', '2025-01-15T12:00:00.250+00:00'],
    ['Europe/Vienna', '2025-01-15T13:00:00.250+01:00'],
    ['America/St_Johns', '2025-01-15T08:30:00.250-03:30'],
    ['America/New_York', '2025-01-15T07:00:00.250-05:00'],
    ['Asia/Kathmandu', '2025-01-15T17:45:00.250+05:45'],
    ['Pacific/Auckland', '2025-01-16T01:00:00.250+13:00'],
    ['Nowhere/Else', '2025-01-15T12:00:00.250+00:00'],
  ])('%s', (zone, iso) => {
    expect(momentOf(NOON, zone)).toEqual({ iso, zone })
    expect(msOf({ iso, zone })).toBe(NOON.getTime())
    expect(wallClock({ iso, zone })).toBe(iso.slice(0, 16))
  })

  test('of this device has its name', () => {
    expect(momentOf(NOON, deviceZone()).zone).toBe(Intl.DateTimeFormat().resolvedOptions().timeZone)
  })
})

describe('a moment from what a clock shows', () => {
  const at = (local: string, iso: string, zone = '') =>
    momentFromWallClock(local, { iso, zone })?.iso

  test('keeps an offset without a zone, also Z and none at all', () => {
    const local = '2025-01-15T12:00'
    expect(at(local, '2025-01-01T00:00:00Z')).toBe('2025-01-15T12:00:00.000Z')
    expect(at(local, '2025-01-01T00:00:00+05:45')).toBe('2025-01-15T12:00:00.000+05:45')
    expect(at(local, '2025-01-01T00:00:00')).toBe('2025-01-15T12:00:00.000Z')
  })

  test('has the offset of its own day in zones on both sides, beside a change of clocks too', () => {
    const of = (zone: string, local: string) => at(local, '2025-01-01T00:00:00Z', zone)
    expect(of('America/St_Johns', '2025-01-15T12:00')).toBe('2025-01-15T12:00:00.000-03:30')
    expect(of('Pacific/Auckland', '2025-07-15T12:00')).toBe('2025-07-15T12:00:00.000+12:00')
    // In 2025 clocks went forward at 02:00 on 30 March in Vienna, on 9 March in New York.
    expect(of('Europe/Vienna', '2025-03-30T01:59')).toBe('2025-03-30T01:59:00.000+01:00')
    expect(of('Europe/Vienna', '2025-03-30T03:00')).toBe('2025-03-30T03:00:00.000+02:00')
    expect(of('America/New_York', '2025-03-09T01:59')).toBe('2025-03-09T01:59:00.000-05:00')
    expect(of('America/New_York', '2025-03-09T03:00')).toBe('2025-03-09T03:00:00.000-04:00')
  })

  test('is none for anything before, behind or instead of it', () => {
    const good = '2025-01-15T12:00'
    for (const text of [
      `1${good}`,
      `+01${good}`,
      `${good}0`,
      ` ${good}`,
      `${good}:00`,
      '2025-01-15T25:00',
    ])
      expect(at(text, '2025-01-01T00:00:00Z', 'UTC'), text).toBeUndefined()
  })
})

describe('an instant', () => {
  test('is a date and a time with its offset (RFC 3339)', () => {
    for (const good of [
      '2025-03-01T10:00:00Z',
      '2025-03-01T10:00:00.5Z',
      '2025-03-01T10:00:00.123+01:00',
      '2025-03-01T10:00:00-03:30',
    ])
      expect(v.is(instant, good), good).toBe(true)
    for (const bad of [
      '2025-03-01T10:00:00',
      '2025-03-01 10:00:00Z',
      '2025-03-01T10:00Z',
      '2025-03-01T10:00:00.1234Z',
      '2025-03-01T10:00:00.Z',
      '12025-03-01T10:00:00Z',
      '2025-03-01T10:00:00Zx',
      '2025-03-01T10:00:00+1:00',
      '2025-13-01T10:00:00Z',
      '2025-03-01T25:00:00Z',
    ])
      expect(v.is(instant, bad), bad).toBe(false)
  })

  test('comes with a zone’s name of at most 64 characters, and nothing else', () => {
    const iso = '2025-03-01T10:00:00Z'
    expect(v.is(moment, { iso, zone: 'z'.repeat(64) })).toBe(true)
    expect(v.is(moment, { iso, zone: 'z'.repeat(65) })).toBe(false)
    expect(v.is(moment, { iso, zone: '', place: 'here' })).toBe(false)
  })
})

test('tags are texts of one to 60 characters, forty at most', () => {
  expect(v.is(tags, new Array(40).fill('a'.repeat(60)))).toBe(true)
  for (const wrong of [[''], ['a'.repeat(61)], new Array(41).fill('a'), 'a'])
    expect(v.is(tags, wrong)).toBe(false)
})
