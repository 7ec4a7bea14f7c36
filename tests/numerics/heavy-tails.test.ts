import { describe, expect, test } from 'vitest'
import { twoSidedT3 } from '../../src/estimate/off-locus.ts'
import { normalCdf, normalQuantile, SCALES } from '../../src/numerics/heavy-tails.ts'
import { expectClose } from '../close-to.ts'

describe('heavy tails', () => {
  test('normal quantiles are those of the tables', () => {
    // Abramowitz & Stegun table 26.5: 97.5 % 1.95996, 99.5 % 2.57583.
    expect(Math.abs(normalQuantile(0.975) - 1.95996)).toBeLessThan(5e-6)
    expect(Math.abs(normalQuantile(0.995) - 2.57583)).toBeLessThan(5e-6)
    expect(Math.abs(normalCdf(normalQuantile(1e-12)) / 1e-12 - 1)).toBeLessThan(1e-5)
  })

  test('Student with three degrees of freedom has the quantiles of the tables', () => {
    // Abramowitz & Stegun table 26.10, two-sided: t(0.05) = 3.182, t(0.01) = 5.841; variance is 3.
    expect(Math.abs(twoSidedT3(3.182 / Math.sqrt(3)) - 0.05)).toBeLessThan(2e-5)
    expect(Math.abs(twoSidedT3(5.841 / Math.sqrt(3)) - 0.01)).toBeLessThan(2e-5)
    expect(twoSidedT3(0)).toBe(1)
  })

  test('the mixture of normals stands for Student with three degrees of freedom', () => {
    expectClose(
      SCALES.reduce((sum, { weight }) => sum + weight, 0),
      1,
      1e-12,
    )
    // Chance beyond z standard deviations: within a tenth of the true one to where 1 % lies.
    for (const z of [0.5, 1, 1.5, 2, 3]) {
      const beyond = SCALES.reduce(
        (sum, { weight, variance }) => sum + weight * 2 * normalCdf(-z / Math.sqrt(variance)),
        0,
      )
      expectClose(beyond, twoSidedT3(z), 0.1, `beyond ${z}`)
    }
  })
})
