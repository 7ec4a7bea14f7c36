import { expect, test } from 'vitest'
import { isSerious, isSeriousDrift } from '../../src/estimate/severity.ts'

test('more than a hundredth of clipped pixels is serious, a hundredth is not', () => {
  expect(isSerious({ code: 'clipped', share: 0.01 })).toBe(false)
  expect(isSerious({ code: 'clipped', share: 0.0101 })).toBe(true)
})

test('background above a tenth of the glow is serious, a tenth is not', () => {
  expect(isSerious({ code: 'background', share: 0.1 })).toBe(false)
  expect(isSerious({ code: 'background', share: 0.101 })).toBe(true)
})

test('a sweep that drifted by more than a tenth either way is told as a warning', () => {
  expect([0.1, -0.1].map(isSeriousDrift)).toEqual([false, false])
  expect([0.101, -0.101].map(isSeriousDrift)).toEqual([true, true])
})
