import { expect, test } from 'vitest'
import type { Matrix3 } from '../../src/numerics/matrix3.ts'
import {
  addMatrices,
  meanOuterProduct,
  meanTriple,
  median,
  quantile,
  robustSd,
} from '../../src/numerics/statistics.ts'

test('the median is the middle value, or the mean of the two middle ones', () => {
  expect(median([5, 1, 4])).toBe(4)
  expect(median([5, 1, 4, 2])).toBe(3)
  expect(median([])).toBeNaN()
})

test('a robust standard deviation is that of normal values, whatever a few outliers are', () => {
  // Quantiles of the normal distribution at 1/8, 3/8, 5/8, 7/8 (handbook tables).
  const normal = [-1.1503, -0.3186, 0.3186, 1.1503]
  expect(robustSd(normal)).toBeCloseTo(1.4826 * (0.3186 + 1.1503) * 0.5, 9)
  expect(robustSd([1, 2, 3, 4, 1000])).toBeCloseTo(1.4826, 9)
  expect(robustSd([1, 2, 3], 0)).toBeCloseTo(2 * 1.4826, 9)
})

test('quantiles run straight between ranks (Hyndman & Fan 1996, definition 7)', () => {
  const values = [40, 10, 20, 30]
  expect([0, 0.25, 0.5, 0.9, 1].map((share) => quantile(values, share))).toEqual([
    10, 17.5, 25, 37, 40,
  ])
  expect(quantile([7], 0.3)).toBe(7)
  expect(quantile([], 0.5)).toBeNaN()
})

test('means of triples and of their outer products', () => {
  expect(
    meanTriple([
      [1, 2, 3],
      [3, 6, 9],
    ]),
  ).toEqual([2, 4, 6])
  expect(meanTriple([])).toEqual([0, 0, 0])
  const outer: Matrix3 = [
    [4, 6, 10],
    [6, 9, 15],
    [10, 15, 25],
  ]
  expect(meanOuterProduct([[2, 3, 5]])).toEqual(outer)
  expect(
    meanOuterProduct(
      [
        [2, 3, 5],
        [-2, -3, -5],
        [0, 0, 0],
        [0, 0, 0],
      ],
      2,
    ),
  ).toEqual(outer)
  expect(addMatrices(outer, outer)[1]).toEqual([12, 18, 30])
})
