import { describe, expect, test } from 'vitest'
import { refinePlateau } from '../../../src/estimate/recording/refine-plateau.ts'
import { expectClose } from '../../close-to.ts'

/** One reading a second. */
function readings(count: number, truth: (t: number) => number) {
  const seconds = Float64Array.from({ length: count }, (_, i) => i)
  return { seconds, temperatureK: seconds.map(truth) }
}

const QUIET = { sdK: 0, errorK: 0.2 }

/** Falls by 4 K/s to 1000 K at 30.5 s, stands to 60.5 s with a slope of its own, falls by 2 K/s. */
const standing = (within: number) => (t: number) =>
  1000 +
  (t < 30.5
    ? -4 * (t - 30.5) - within * 15
    : t > 60.5
      ? -2 * (t - 60.5) + within * 15
      : within * (t - 45.5))

describe('a plateau between two straight falls', () => {
  test('gets its ends, level and slopes back without noise', () => {
    const { fit, residualErrorK } = refinePlateau(
      readings(90, standing(0)),
      { from: 33, to: 59, score: 9, direction: -1 },
      QUIET,
    )
    expect(fit.fromSeconds).toBeCloseTo(30.5, 1)
    expect(fit.toSeconds).toBeCloseTo(60.5, 1)
    expect(fit.levelK).toBeCloseTo(1000, 1)
    expect(fit.slopeBefore).toBeCloseTo(-4, 1)
    expect(fit.slopeWithin).toBeCloseTo(0, 2)
    expect(fit.slopeAfter).toBeCloseTo(-2, 1)
    expect(fit.undercoolingK).toBe(0)
    expect(residualErrorK).toBeLessThan(0.1)
  })

  test('a quarter of an hour into a recording is the same', () => {
    const { seconds, temperatureK } = readings(90, standing(0))
    const { fit } = refinePlateau(
      { seconds: seconds.map((t) => t + 900), temperatureK },
      { from: 33, to: 59, score: 9, direction: -1 },
      QUIET,
    )
    expect(fit.fromSeconds).toBeCloseTo(930.5, 1)
    expect(fit.toSeconds).toBeCloseTo(960.5, 1)
  })

  test('the level is as unsure as noise and a slope left within make it', () => {
    const slope = -0.1
    const { fit } = refinePlateau(
      readings(90, standing(slope)),
      { from: 33, to: 59, score: 9, direction: -1 },
      QUIET,
    )
    expect(fit.slopeWithin).toBeCloseTo(slope, 2)
    // 30 readings of 0.2 K; a straight fall of 3 K over the stretch (JCGM 100, 4.3.7).
    expectClose(fit.levelUncertaintyK, Math.hypot(0.2 / Math.sqrt(30), 3 / Math.sqrt(12)), 0.03)
    // Slope of a line through even readings: sd sqrt(12) / (duration sqrt(n)).
    expectClose(fit.slopeWithinUncertainty, (0.2 * Math.sqrt(12)) / (30 * Math.sqrt(30)), 0.03)
  })

  test('is found as well while the metal heats', () => {
    const { fit } = refinePlateau(
      readings(90, (t) => 2000 - standing(0)(t)),
      { from: 33, to: 59, score: 9, direction: 1 },
      QUIET,
    )
    expect(fit.slopeBefore).toBeCloseTo(4, 1)
    expect(fit.slopeAfter).toBeCloseTo(2, 1)
    expect(fit.levelK).toBeCloseTo(1000, 1)
  })

  test('at the ends of a recording stays within it', () => {
    const { fit } = refinePlateau(
      readings(60, standing(0)),
      { from: 33, to: 60, score: 9, direction: -1 },
      QUIET,
    )
    expect(fit.toSeconds).toBeLessThanOrEqual(59)
    expect(fit.fromSeconds).toBeCloseTo(30.5, 1)
    expect(fit.slopeAfter).toBeCloseTo(0, 3)
  })

  test('a bend before and after is no part of it', () => {
    const bent = (t: number) => {
      const [left, right] = [Math.min(t - 30, 0), Math.max(t - 60, 0)]
      return 1000 - 3 * left + 0.04 * left * left - 2 * right + 0.01 * right * right
    }
    const { fit, residualErrorK } = refinePlateau(
      readings(90, bent),
      { from: 32, to: 58, score: 9, direction: -1 },
      QUIET,
    )
    expect(fit.fromSeconds).toBeCloseTo(30, 0)
    expect(fit.toSeconds).toBeCloseTo(60, 0)
    expect(fit.slopeBefore).toBeCloseTo(-3, 0)
    expect(fit.slopeAfter).toBeCloseTo(-2, 0)
    expect(residualErrorK).toBeLessThan(0.1)
  })
})

describe('undercooling', () => {
  /** Falls by 4 K/s past 1000 K to 1000 K - depth, and comes back within 4 s to stand from 40 s on. */
  const undercooled = (depth: number) => (t: number) => {
    const deepest = 36
    if (t <= deepest) return 1000 - depth - 4 * (t - deepest)
    if (t < 40) return 1000 - depth + (depth * (t - deepest)) / 4
    return t > 70 ? 1000 - 2 * (t - 70) : 1000
  }
  const window = { from: 38, to: 68, score: 9, direction: -1 } as const

  test('counts from the level to the deepest reading, and not into the plateau', () => {
    const { fit } = refinePlateau(readings(100, undercooled(20)), window, QUIET)
    // A median of three about the deepest reading: that of its neighbours 4 K before and 5 K after.
    expectClose(fit.undercoolingK, 16, 0.05)
    expect(fit.fromSeconds).toBeGreaterThanOrEqual(39)
    expect(fit.fromSeconds).toBeLessThanOrEqual(41)
    expect(fit.slopeBefore).toBeCloseTo(-4, 1)
    expect(fit.levelK).toBeCloseTo(1000, 0)
    expect(fit.toSeconds).toBeCloseTo(70, 0)
  })

  test('of metal that heats is the other way round', () => {
    const { fit } = refinePlateau(
      readings(100, (t) => 2000 - undercooled(20)(t)),
      { ...window, direction: 1 },
      QUIET,
    )
    expectClose(fit.undercoolingK, 16, 0.05)
    expect(fit.slopeBefore).toBeCloseTo(4, 1)
  })

  test('is none within five deviations of the noise', () => {
    const curve = readings(100, undercooled(20))
    const of = (sdK: number) => refinePlateau(curve, window, { sdK, errorK: sdK }).fit.undercoolingK
    expect(of(3.1)).toBeGreaterThan(15)
    expect(of(3.3)).toBe(0)
  })

  test('goes past the level by one kelvin and a half', () => {
    // Of a depth three quarters are left by a median of three.
    const of = (depthK: number) =>
      refinePlateau(readings(100, undercooled(depthK / 0.75)), window, QUIET).fit.undercoolingK
    expect(of(1.43)).toBe(0)
    expect(of(1.57)).toBeGreaterThan(1.5)
  })

  test('is none without a fall before it', () => {
    const { fit } = refinePlateau(
      readings(60, (t) => (t < 4 ? 980 + 5 * t : t > 40 ? 1000 - 2 * (t - 40) : 1000)),
      { from: 6, to: 38, score: 9, direction: -1 },
      QUIET,
    )
    expect(fit.undercoolingK).toBe(0)
  })
})
