import { expect, test } from 'vitest'
import { kindOdds } from '../../../src/session/reading/kind-odds.ts'

const KEPT = { channelOdds: 40, foundAt: '2026-03-01T10:00:00.000+01:00' }
const HOLDS = { kind: 'checked', residual: 0.01, misfit: 1, agrees: true } as const

test('a later sweep counts on the kind of curve that the kept one showed', () => {
  expect(kindOdds(KEPT, HOLDS, '2026-03-05T10:00:00.000+01:00')).toBe(40)
})

test('nothing is counted on where there is no curve, or the photos contradict it', () => {
  const later = '2026-03-05T10:00:00.000+01:00'
  expect(kindOdds(null, null, later)).toBe(1)
  expect(kindOdds(KEPT, { ...HOLDS, agrees: false }, later)).toBe(1)
  expect(kindOdds(KEPT, { kind: 'not possible', reason: 'too few frames' }, later)).toBe(1)
})

test('the photos that the curve was found by do not count twice', () => {
  expect(kindOdds(KEPT, HOLDS, '2026-03-01T10:04:00.000+01:00')).toBe(1)
  expect(kindOdds(KEPT, HOLDS, null)).toBe(1)
})

test('photos of the same ten minutes may be its own', () => {
  const at = (minutes: number) =>
    new Date(Date.parse(KEPT.foundAt) + 60_000 * minutes).toISOString()
  for (const minutes of [9.5, -9.5]) expect(kindOdds(KEPT, HOLDS, at(minutes))).toBe(1)
  for (const minutes of [10.5, -10.5]) expect(kindOdds(KEPT, HOLDS, at(minutes))).toBe(40)
})
