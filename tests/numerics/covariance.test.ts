import { describe, expect, test } from 'vitest'
import { isCovariance } from '../../src/numerics/covariance.ts'
import { type Matrix3, propagate } from '../../src/numerics/matrix3.ts'

describe('a covariance of three numbers', () => {
  const of = (a: number, b: number, c: number, ab = 0, ac = 0, bc = 0): Matrix3 => [
    [a, ab, ac],
    [ab, b, bc],
    [ac, bc, c],
  ]

  test('has variances that are not negative and correlations within 1', () => {
    expect(isCovariance(of(1, 4, 9))).toBe(true)
    expect(isCovariance(of(1, 4, 9, 2, 3, 6))).toBe(true)
    expect(isCovariance(of(0, 0, 0))).toBe(true)
    expect(isCovariance(of(0, 1, 1, 0, 0, 1))).toBe(true)
    expect(isCovariance(of(-1, 1, 1))).toBe(false)
    expect(isCovariance(of(1, 4, 9, 2.1))).toBe(false)
    expect(isCovariance(of(0, 1, 1, 1e-9))).toBe(false)
    expect(isCovariance(of(1, 1, Number.NaN))).toBe(false)
  })

  test('is one as a whole: each pair alone may be possible, and the three not', () => {
    // Horn & Johnson, Matrix Analysis, 7.2.5: all principal minors; here the determinant is 1 - 3 r² + 2 r³.
    expect(isCovariance(of(1, 1, 1, -0.4, -0.4, -0.4))).toBe(true)
    expect(isCovariance(of(1, 1, 1, -0.6, -0.6, -0.6))).toBe(false)
  })

  test('is symmetric', () => {
    expect(
      isCovariance([
        [1, 0.5, 0],
        [0.4, 1, 0],
        [0, 0, 1],
      ]),
    ).toBe(false)
  })

  test('stays one through any linear map, rounding included', () => {
    const map: Matrix3 = [
      [0.4866, 0.2657, 0.1982],
      [0.229, 0.6917, 0.0793],
      [1e-8, 0.0451, 1.0439],
    ]
    const rankOne = of(1e-6, 4e-10, 9e-14, 2e-8, 3e-10, 6e-12)
    expect(isCovariance(propagate(map, rankOne))).toBe(true)
    expect(isCovariance(propagate(map, propagate(map, rankOne)))).toBe(true)
  })
})
