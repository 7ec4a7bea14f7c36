import { expect, test } from 'vitest'
import { CHECK_LEAVES } from '../../../src/light/exposure-sweep/check-tone-curve.ts'
import { curveAge, UNCHECKED_CURVE } from '../../../src/light/exposure-sweep/curve-ageing.ts'

const AT = '2026-07-01T00:00:00.000Z'
const daysBefore = (days: number) => new Date(Date.parse(AT) - days * 86_400_000).toISOString()

test('half a year without a check makes a curve less certain, a day less does not', () => {
  expect(curveAge(daysBefore(180), null, AT)).toEqual({ ageDays: 180, stale: false, movedBy: 0 })
  expect(curveAge(daysBefore(181), null, AT)).toEqual({
    ageDays: 181,
    stale: true,
    movedBy: UNCHECKED_CURVE,
  })
})

test('a check renews an old curve, up to what a check leaves open', () => {
  const { ageDays, movedBy } = curveAge(daysBefore(400), daysBefore(10), AT)
  expect([ageDays, movedBy]).toEqual([10, CHECK_LEAVES])
})

test('a curve without a date counts as unchecked', () => {
  expect(curveAge('some day', null, AT).movedBy).toBe(UNCHECKED_CURVE)
})
