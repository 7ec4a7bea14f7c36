import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { momentOf, msOf } from '../../src/log/schema/moment.ts'
import { momentFromWallClock, wallClock } from '../../src/log/schema/wall-clock.ts'

const like = (zone: string) => momentOf(new Date(0), zone)

describe('a moment from what a clock shows', () => {
  test('takes the offset that the zone has on that day', () => {
    // Central European Time is UTC+1, in summer UTC+2 (tz database, Europe/Vienna).
    expect(momentFromWallClock('2026-01-15T12:00', like('Europe/Vienna'))?.iso).toBe(
      '2026-01-15T12:00:00.000+01:00',
    )
    expect(momentFromWallClock('2026-07-15T12:00', like('Europe/Vienna'))?.iso).toBe(
      '2026-07-15T12:00:00.000+02:00',
    )
  })

  test('keeps the offset of a moment without a zone', () => {
    const before = { iso: '2026-01-15T12:00:00-03:30', zone: '' }
    expect(momentFromWallClock('2026-01-16T08:00', before)).toEqual({
      iso: '2026-01-16T08:00:00.000-03:30',
      zone: '',
    })
  })

  test('is the inverse of showing it, to the minute', () => {
    const zones = ['UTC', 'Europe/Vienna', 'America/St_Johns', 'Asia/Kathmandu', 'Pacific/Auckland']
    fc.assert(
      fc.property(
        fc.integer({ min: Date.UTC(2000, 0), max: Date.UTC(2040, 0) }),
        fc.constantFrom(...zones),
        (ms, zone) => {
          const minute = 60_000 * Math.floor(ms / 60_000)
          const moment = momentOf(new Date(minute), zone)
          const back = momentFromWallClock(wallClock(moment), moment)
          // In the hour that comes twice in autumn, either of the two.
          expect(back && wallClock(back)).toBe(wallClock(moment))
          expect(Math.abs(msOf(back!) - minute)).toBeLessThanOrEqual(3_600_000)
        },
      ),
    )
  })

  test('is near in the hour that a change of clocks leaves out', () => {
    // 2026-03-29 02:30 does not exist in Vienna.
    const moment = momentFromWallClock('2026-03-29T02:30', like('Europe/Vienna'))
    const ms = Date.UTC(2026, 2, 29, 1, 0)
    expect(Math.abs(msOf(moment!) - ms)).toBeLessThanOrEqual(3_600_000)
  })

  test('refuses what is no date', () => {
    for (const text of ['', '2026-13-01T00:00', 'yesterday', '2026-01-01']) {
      expect(momentFromWallClock(text, like('UTC'))).toBeNull()
    }
  })
})
