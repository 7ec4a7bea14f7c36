import fc from 'fast-check'
import { expect, test } from 'vitest'
import { COVERAGE_95_PLANE, covarianceEllipse } from '../../src/colour/ellipse.ts'
import { expectPrinted } from '../close-to.ts'

test('95 % of a plane normal distribution lies within 2.45 standard deviations', () => {
  // Chi-squared with 2 degrees of freedom at 0.95: 5.991 (any table; JCGM 102:2011, 6.5.2.3).
  expectPrinted(COVERAGE_95_PLANE ** 2, '5.991')
})

test('uncorrelated quantities have their axes along the coordinates', () => {
  const lying = covarianceEllipse([
    [9, 0],
    [0, 4],
  ])
  expect(lying).toEqual({ major: 3, minor: 2, angle: 0 })
  const standing = covarianceEllipse([
    [4, 0],
    [0, 9],
  ])
  expect(standing.major).toBe(3)
  expect(standing.angle).toBeCloseTo(Math.PI / 2, 15)
})

test('equal variances with correlation 0.6 lie on the diagonal', () => {
  // Analytic: eigenvalues 1 +- 0.6.
  const { major, minor, angle } = covarianceEllipse([
    [1, 0.6],
    [0.6, 1],
  ])
  expect(major).toBeCloseTo(Math.sqrt(1.6), 14)
  expect(minor).toBeCloseTo(Math.sqrt(0.4), 14)
  expect(angle).toBeCloseTo(Math.PI / 4, 15)
})

test('the axes keep trace and determinant, and are never negative or not a number', () => {
  const side = fc.oneof(fc.constant(0), fc.double({ min: 1e-6, max: 10, noNaN: true }))
  fc.assert(
    fc.property(side, side, fc.double({ min: -1, max: 1, noNaN: true }), (sx, sy, correlation) => {
      const c = correlation * sx * sy
      const { major, minor, angle } = covarianceEllipse([
        [sx * sx, c],
        [c, sy * sy],
      ])
      expect(major).toBeGreaterThanOrEqual(minor)
      expect(minor).toBeGreaterThanOrEqual(0)
      expect(Number.isFinite(angle)).toBe(true)
      const trace = sx * sx + sy * sy
      expect(Math.abs(major ** 2 + minor ** 2 - trace)).toBeLessThanOrEqual(1e-12 * trace)
      const product = sx * sx * sy * sy - c * c
      expect(Math.abs((major * minor) ** 2 - product)).toBeLessThanOrEqual(1e-12 * trace * trace)
    }),
  )
})

test('no uncertainty is a point', () => {
  const nothing = covarianceEllipse([
    [0, 0],
    [0, 0],
  ])
  expect(nothing).toEqual({ major: 0, minor: 0, angle: 0 })
})
