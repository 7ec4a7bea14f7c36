import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { planSweep } from '../../../src/light/exposure-sweep/plan-sweep.ts'

describe('a sweep planned from one photo', () => {
  // Red at half of full scale, green a tenth of it: log2(10) + 3 = 6.3 stops of light apart.
  const levels = [encodeTransfer(0.5), encodeTransfer(0.05), 0.1] as const

  test('starts just below clipping, halves the time until red has passed green, repeats the first', () => {
    const { stops, seconds } = planSweep(levels, false, 1 / 60)
    // 0.93 is a light of 0.85: log2(0.85 / 0.5) / 1.16 = 0.66 of a stop brighter, so a third.
    expect(stops[0]).toBeCloseTo(1 / 3)
    // One frame above it: single photos up to clipping are then read within the curve.
    expect(stops.slice(1, 5).map((stop) => stops[0]! - stop)).toEqual([
      expect.closeTo(-1 / 3),
      expect.closeTo(1 / 3),
      expect.closeTo(2 / 3),
      expect.closeTo(1),
    ])
    expect(stops[0]! - Math.min(...stops)).toBeGreaterThanOrEqual(6.3 / 1.16)
    expect(stops.at(-1)).toBe(stops[0])
    // Times as cameras name them: 1/60 a third longer is 1/50, another 1/40, a stop less 1/100.
    expect(seconds!.slice(0, 5).map((s) => Math.round(1 / s))).toEqual([50, 40, 60, 80, 100])
    expect(seconds!.at(-2)! * 2 ** 6).toBeCloseTo(1 / 50, 2)
  })

  test('goes well down from a clipped photo, and speaks of stops where no time is stated', () => {
    const { stops, seconds } = planSweep([1, 0.9, 0.3], true, null)
    expect(seconds).toBeNull()
    expect(stops[0]).toBeLessThanOrEqual(-2)
    expect(planSweep([0, 0, 0], false, 1 / 125).stops.every(Number.isFinite)).toBe(true)
  })
})
