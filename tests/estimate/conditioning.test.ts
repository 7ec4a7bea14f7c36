import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { condition, dot, type Observation, quadratic } from '../../src/estimate/conditioning.ts'
import { expectClose } from '../close-to.ts'

/** Plain Gaussian elimination with pivoting: the direct dense way, sharing no code. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const n = matrix.length
  const a = matrix.map((row, i) => [...row, right[i]!])
  for (let c = 0; c < n; c++) {
    const pivot = a
      .slice(c)
      .reduce((best, row, i) => (Math.abs(row[c]!) > Math.abs(a[best]![c]!) ? c + i : best), c)
    ;[a[c], a[pivot]] = [a[pivot]!, a[c]!]
    for (let r = c + 1; r < n; r++) {
      const factor = a[r]![c]! / a[c]![c]!
      for (let k = c; k <= n; k++) a[r]![k]! -= factor * a[c]![k]!
    }
  }
  const x = new Array<number>(n).fill(0)
  for (let r = n - 1; r >= 0; r--) {
    let sum = a[r]![n]!
    for (let k = r + 1; k < n; k++) sum -= a[r]![k]! * x[k]!
    x[r] = sum / a[r]![r]!
  }
  return x
}

const number = fc.double({ min: -2, max: 2, noNaN: true })
const positive = fc.double({ min: 0.01, max: 4, noNaN: true })
const SIZE = 4
const prior = fc.array(positive, { minLength: SIZE, maxLength: SIZE })
const loading = fc.array(number, { minLength: SIZE, maxLength: SIZE })
const observation = fc.record({ residual: number, loading, variance: positive })
const observations = fc.array(observation, { minLength: 1, maxLength: 6 })

/** Covariance of two values that are linear in the coefficients. */
const between = (variances: readonly number[], a: readonly number[], b: readonly number[]) =>
  variances.reduce((sum, v, k) => sum + v * a[k]! * b[k]!, 0)

describe('conditioning on references', () => {
  test('in coefficients agrees with conditioning the curve itself by a direct dense solve', () => {
    fc.assert(
      fc.property(prior, observations, loading, (variances, seen, at) => {
        const { mean, covariance } = condition(variances, seen)
        // Rasmussen & Williams eqs. 2.25 and 2.26, as a Gaussian process on values.
        const k = seen.map((a, i) =>
          seen.map((b, j) => between(variances, a.loading, b.loading) + (i === j ? a.variance : 0)),
        )
        const cross = seen.map((a) => between(variances, a.loading, at))
        const weights = solve(k, cross)
        const expected = dot(
          weights,
          seen.map(({ residual }) => residual),
        )
        const variance = between(variances, at, at) - dot(weights, cross)
        expect(Math.abs(dot(mean, at) - expected)).toBeLessThan(1e-8)
        expect(Math.abs(quadratic(at, covariance) - variance)).toBeLessThan(1e-8)
      }),
    )
  })

  test('one more reference never widens what is known anywhere', () => {
    fc.assert(
      fc.property(prior, observations, observation, loading, (variances, seen, more, at) => {
        const before = quadratic(at, condition(variances, seen).covariance)
        const after = quadratic(at, condition(variances, [...seen, more]).covariance)
        expect(after).toBeLessThanOrEqual(before * (1 + 1e-9) + 1e-12)
      }),
    )
  })

  test('does not depend on the order of the references', () => {
    fc.assert(
      fc.property(prior, observations, loading, (variances, seen, at) => {
        const one = condition(variances, seen)
        const other = condition(variances, [...seen].reverse())
        expect(Math.abs(dot(one.mean, at) - dot(other.mean, at))).toBeLessThan(1e-9)
        expect(Math.abs(one.logEvidence - other.logEvidence)).toBeLessThan(1e-8)
      }),
    )
  })

  test('leaves each reference out as if it had never been there', () => {
    fc.assert(
      fc.property(
        prior,
        fc.array(observation, { minLength: 2, maxLength: 5 }),
        (variances, seen) => {
          const all = condition(variances, seen)
          for (const i of seen.keys()) {
            const left = all.leftOut(i)
            const { residual, loading: h, variance } = seen[i]!
            const others = condition(
              variances,
              seen.filter((_, j) => j !== i),
            )
            expect(Math.abs(left.mean - (residual - dot(h, others.mean)))).toBeLessThan(1e-8)
            const expected = quadratic(h, others.covariance) + variance
            expectClose(left.variance, expected, 1e-8)
          }
        },
      ),
    )
  })

  test('finds the evidence of one and of two independent references', () => {
    const one: Observation = { residual: 1, loading: [1], variance: 3 }
    // Normal density of 1 with variance 1 + 3.
    expectClose(condition([1], [one]).logEvidence, -0.5 * (0.25 + Math.log(8 * Math.PI)), 1e-12)
    const apart: Observation[] = [
      { residual: 1, loading: [1, 0], variance: 3 },
      { residual: -2, loading: [0, 2], variance: 1 },
    ]
    const second = -0.5 * (4 / 5 + Math.log(10 * Math.PI))
    expectClose(
      condition([1, 1], apart).logEvidence,
      -0.5 * (0.25 + Math.log(8 * Math.PI)) + second,
      1e-12,
    )
  })
})
