import { expect, test } from 'vitest'
import { balanced } from '../../src/estimate/budget.ts'
import type { BudgetTerm } from '../../src/estimate/types.ts'

const terms = (target: number, more: readonly (readonly [BudgetTerm, number])[] = []) =>
  Object.fromEntries(
    balanced(new Map<BudgetTerm, number>([['camera', 4], ['surface', 5], ...more]), target).map(
      ({ term, standardUncertaintyK }) => [term, standardUncertaintyK ** 2],
    ),
  )
const rounded = (of: Record<string, number>) =>
  Object.fromEntries(
    Object.entries(of).map(([term, value]) => [term, Math.round(1e9 * value) / 1e9]),
  )

test('what the terms lack of the whole uncertainty goes to the camera, or to a larger tone curve', () => {
  expect(rounded(terms(16))).toEqual({ camera: 11, surface: 5 })
  expect(rounded(terms(20, [['tone curve', 6]]))).toEqual({
    camera: 4,
    surface: 5,
    'tone curve': 11,
  })
})

test('what they have too much is taken from all alike, the largest stands first', () => {
  expect(rounded(terms(4.5))).toEqual({ surface: 2.5, camera: 2 })
  expect(Object.keys(terms(4.5))).toEqual(['surface', 'camera'])
})

test('terms that are nothing are not named', () => {
  expect(rounded(terms(9, [['window', 0]]))).toEqual({ camera: 4, surface: 5 })
})
