import { describe, expect, it } from 'vitest'
import { mixtureQuantiles } from '../../src/numerics/mixture.ts'

describe('quantiles of a mixture', () => {
  it('of one normal are its own: 1.959964 standard deviations (tables of the normal distribution)', () => {
    const [low, median, high] = mixtureQuantiles(
      [{ weight: 1, mean: 5, sd: 2 }],
      [0.025, 0.5, 0.975],
    )
    expect(low).toBeCloseTo(5 - 2 * 1.959964, 5)
    expect(median).toBeCloseTo(5, 6)
    expect(high).toBeCloseTo(5 + 2 * 1.959964, 5)
  })

  it('of two far apart lie in the one that holds them', () => {
    const parts = [
      { weight: 0.9, mean: 0, sd: 1 },
      { weight: 0.1, mean: 100, sd: 1 },
    ]
    const [low, high] = mixtureQuantiles(parts, [0.45, 0.95])
    // Half of the first, and half of the second.
    expect(low).toBeCloseTo(0, 6)
    expect(high).toBeCloseTo(100, 6)
  })
})
