import { expect, test } from 'vitest'
import { type SplineBasis, splineAt, splineWeights } from '../../src/numerics/b-spline.ts'

const BASIS: SplineBasis = { first: 2, spacing: 0.5, size: 7 }
const LAST = BASIS.first + (BASIS.size - 3) * BASIS.spacing
const PLACES = [1, 1.9, 2, 2.1, 2.5, 2.77, 3, 3.49, 3.5, 3.99, 4, 4.01, 5]
const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0)

test('at a knot the three coefficients around it count 1/6, 4/6, 1/6 (de Boor 1978)', () => {
  const { index, weights } = splineWeights(BASIS, 3)
  expect(index).toBe(2)
  for (const [k, weight] of [1 / 6, 4 / 6, 1 / 6, 0].entries())
    expect(weights[k]).toBeCloseTo(weight, 12)
  // In the middle between two knots: 1/48, 23/48, 23/48, 1/48.
  for (const [k, weight] of [1 / 48, 23 / 48, 23 / 48, 1 / 48].entries())
    expect(splineWeights(BASIS, 2.75).weights[k]).toBeCloseTo(weight, 12)
})

test('equal coefficients give a constant, rising ones the straight line, also beyond the knots', () => {
  const line = Array.from({ length: BASIS.size }, (_, k) => BASIS.first + (k - 1) * BASIS.spacing)
  for (const at of PLACES) {
    const { weights, slopes } = splineWeights(BASIS, at)
    expect(sum(weights)).toBeCloseTo(1, 12)
    expect(sum(slopes)).toBeCloseTo(0, 12)
    expect(splineAt(BASIS, line, at).value).toBeCloseTo(at, 12)
    expect(splineAt(BASIS, line, at).slope).toBeCloseTo(1, 12)
  }
})

test('slopes are those of the values, and neither jumps at a knot or an end', () => {
  const coefficients = [0.3, -1, 2, 0.7, 1.5, -0.4, 0.9]
  const value = (at: number) => splineAt(BASIS, coefficients, at).value
  for (const at of PLACES) {
    const h = 1e-5
    expect(splineAt(BASIS, coefficients, at).slope).toBeCloseTo(
      (value(at + h) - value(at - h)) / (2 * h),
      4,
    )
  }
  for (const end of [BASIS.first, LAST]) {
    const { slope } = splineAt(BASIS, coefficients, end)
    const away = end === LAST ? 3 : -3
    expect(value(end + away)).toBeCloseTo(value(end) + away * slope, 12)
  }
})
