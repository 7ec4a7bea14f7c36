import { expect, test } from 'vitest'
import { plainNumber } from '../../src/ui/plain-number.ts'

test('numbers are written as people write them, to the place that their uncertainty leaves', () => {
  expect(plainNumber(187.3, 12)).toBe('187')
  expect(plainNumber(187.3, 120)).toBe('190')
  expect(plainNumber(187.3, 38)).toBe('190')
  expect(plainNumber(190, 7.6)).toBe('190')
  expect(plainNumber(3.25, 0.17)).toBe('3.25')
  expect(plainNumber(187.3)).toBe('190')
  expect(plainNumber(368)).toBe('370')
  expect(plainNumber(1873)).toBe('1900')
  expect(plainNumber(0.0523)).toBe('0.052')
  expect(plainNumber(9.96)).toBe('10.0')
  expect(plainNumber(-12.4)).toBe('−12')
  expect(plainNumber(0)).toBe('0')
  expect(plainNumber(Number.NaN)).toBe('–')
})
