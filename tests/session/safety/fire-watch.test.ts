import * as v from 'valibot'
import { expect, test } from 'vitest'
import {
  checkIn,
  checkInDue,
  type FireWatch,
  fireWatch,
  lengthen,
  lengthMinutes,
  secondsLeft,
  shorten,
  startFireWatch,
  USUAL_MINUTES,
} from '../../../src/session/safety/fire-watch.ts'

const START = new Date('2026-03-01T10:00:00.000Z')
const after = (minutes: number) => new Date(START.getTime() + 60_000 * minutes)
const watch = (minutes: number, reason?: string) =>
  startFireWatch(START, minutes, reason) as FireWatch

test('half an hour is the least without a reason (OSHA 29 CFR 1910.252(a)(2)(iii)(B))', () => {
  expect(startFireWatch(START, 30)).toMatchObject({ reason: '' })
  expect(startFireWatch(START, 29)).toBe('reason needed')
  expect(startFireWatch(START, 29, '  ')).toBe('reason needed')
  expect(startFireWatch(START, 10, 'outdoors on wet sand')).toMatchObject({
    reason: 'outdoors on wet sand',
  })
})

test('neither nothing nor more than a day can be set', () => {
  expect(startFireWatch(START, 0)).toBe('no minutes')
  expect(startFireWatch(START, Number.NaN)).toBe('no minutes')
  expect(startFireWatch(START, 24 * 60 + 1)).toBe('too long')
})

test('what is left follows the clock, not a count', () => {
  expect(secondsLeft(watch(60), after(0))).toBe(3600)
  expect(secondsLeft(watch(60), after(59))).toBe(60)
  expect(secondsLeft(watch(60), after(600))).toBe(0)
})

test('it is lengthened freely, shortened only with a reason that is kept', () => {
  expect(lengthMinutes(lengthen(watch(60), 30))).toBe(90)
  expect(lengthMinutes(lengthen(watch(60), -30))).toBe(60)
  expect(shorten(watch(60), after(20), ' ')).toBeNull()
  const short = shorten(watch(60), after(20), 'fire brigade took over')!
  expect([lengthMinutes(short), short.reason]).toEqual([20, 'fire brigade took over'])
  // Over by itself: there is nothing to shorten.
  expect(shorten(watch(60), after(61), '')).toEqual(watch(60))
})

test('a look round is due every ten minutes since the last one', () => {
  expect(checkInDue(watch(60), after(9.9))).toBe(false)
  expect(checkInDue(watch(60), after(10))).toBe(true)
  expect(checkInDue(checkIn(watch(60), after(12)), after(21.9))).toBe(false)
  expect(checkInDue(checkIn(watch(60), after(12)), after(22))).toBe(true)
})

test('a whole day can be set, and it is lengthened to no more', () => {
  expect(lengthMinutes(watch(24 * 60))).toBe(24 * 60)
  expect(startFireWatch(START, 24 * 60 + 0.1)).toBe('too long')
  expect(lengthMinutes(lengthen(watch(60), 24 * 60))).toBe(24 * 60)
})

test('an hour is what is offered first (NFPA 51B, 2019 and later)', () => {
  expect(USUAL_MINUTES).toBeGreaterThanOrEqual(60)
  expect(USUAL_MINUTES).toBeLessThan(65)
})

test('what the device has kept of a watch is taken up within what a watch can be', () => {
  const kept = (change: object) => v.is(fireWatch, { ...watch(60), ...change })
  const looks = (count: number) => ({ checkIns: new Array(count).fill(START.toISOString()) })
  expect([kept(looks(500)), kept(looks(501))]).toEqual([true, false])
  expect([kept({ reason: 'x'.repeat(400) }), kept({ reason: 'x'.repeat(401) })]).toEqual([
    true,
    false,
  ])
  const padded = (length: number) => ({ endsAt: `2026-03-01T11:00:00.${'0'.repeat(length - 21)}Z` })
  expect([kept(padded(40)), kept(padded(41))]).toEqual([true, false])
  expect(kept({ endsAt: 'soon' })).toBe(false)
})
