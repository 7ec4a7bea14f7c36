import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { chiSquaredProbability } from '../../src/numerics/chi-squared.ts'
import { expectPrinted } from '../close-to.ts'

describe('chi-squared probability', () => {
  it('is 5 % at the percentage points of Abramowitz & Stegun table 26.8', () => {
    for (const [degrees, point] of [
      [1, 3.84146],
      [2, 5.99147],
      [3, 7.81473],
      [4, 9.48773],
      [5, 11.0705],
      [10, 18.307],
    ] as const)
      expectPrinted(chiSquaredProbability(point, degrees), '0.0500', `${degrees} degrees`)
  })

  it('falls with the value, rises with the degrees, and stays within 0..1', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.integer({ min: 1, max: 20 }),
        (value, degrees) => {
          const p = chiSquaredProbability(value, degrees)
          expect(p >= 0 && p <= 1).toBe(true)
          // Odd degrees start from erfc, which promises no more than this.
          const promised = 1.2e-7
          expect(chiSquaredProbability(value + 1, degrees)).toBeLessThanOrEqual(p + promised)
          expect(chiSquaredProbability(value, degrees + 1)).toBeGreaterThanOrEqual(p - promised)
        },
      ),
    )
    expect(chiSquaredProbability(5, 0)).toBe(1)
  })
})
