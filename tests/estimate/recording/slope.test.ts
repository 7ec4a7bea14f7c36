import { describe, expect, test } from 'vitest'
import { peakOf } from '../../../src/estimate/recording/course.ts'
import { limitOfRate, rateShare } from '../../../src/estimate/recording/course-by-level.ts'
import { crossingsOf } from '../../../src/estimate/recording/crossings.ts'
import { curveNoise } from '../../../src/estimate/recording/curve-noise.ts'
import { readingsOf } from '../../../src/estimate/recording/heat-curve.ts'
import { slopeAt, slopeBetween } from '../../../src/estimate/recording/slope.ts'
import { expectClose } from '../../close-to.ts'
import { curveOf, rmsOf } from './simulated-curves.ts'

describe('the slope between two times', () => {
  test('is that of the readings within, both ends with them, and says which', () => {
    const found = slopeBetween(
      curveOf((t) => 1300 - 3 * t),
      10,
      20,
    )!
    expectClose(found.slope, -3, 1e-9)
    expect([found.fromSeconds, found.toSeconds, found.readings]).toEqual([10, 20, 21])
    expectClose(found.temperatureK, 1255, 1e-9)
    expect(
      slopeBetween(
        curveOf((t) => 1300 - 3 * t),
        10,
        10.6,
      ),
    ).toBeNull()
    expect(
      slopeBetween(
        curveOf((t) => 1300 - 3 * t),
        10,
        11,
      )!.readings,
    ).toBe(3)
  })

  test('scatters as much as it says, whether by noise or by a bend', () => {
    const of = (seed: number) =>
      slopeBetween(
        curveOf((t) => 1300 - 3 * t, { noiseK: 2, seed }),
        20,
        40,
      )!
    // Noise that neighbours share is looked for, and some found by chance.
    const ratio = rmsOf((seed) => (of(seed).slope + 3) / of(seed).byNoise)
    expect(ratio).toBeGreaterThan(0.5)
    expect(ratio).toBeLessThan(1.15)
    const bent = slopeBetween(
      curveOf((t) => 1300 - 0.05 * (t - 30) ** 2),
      20,
      40,
    )!
    // No noise at all: what a straight line leaves of the parabola.
    const left = Array.from({ length: 41 }, (_, i) => -0.05 * (i / 2 - 10) ** 2)
    const mean = left.reduce((a, b) => a + b, 0) / 41
    const residual = Math.sqrt(left.reduce((sum, v) => sum + (v - mean) ** 2, 0) / 39)
    const spread = Math.sqrt(
      Array.from({ length: 41 }, (_, i) => (i / 2 - 10) ** 2).reduce((a, b) => a + b),
    )
    expectClose(bent.byNoise, residual / spread, 1e-6)
  })

  test('counts a changed exposure within, by 3/2 of its step over the length, and none outside', () => {
    const curve = curveOf((t) => 1300 - 3 * t)
    const with_ = (...seconds: number[]) =>
      slopeBetween({ ...curve, jumps: seconds.map((at) => ({ seconds: at, stepK: 8 })) }, 10, 30)!
        .standardUncertainty
    const plain = with_()
    expectClose(with_(20), Math.hypot(plain, (1.5 * 8) / 20), 1e-6)
    expectClose(with_(15, 20), Math.hypot(plain, ((1.5 * 8) / 20) * Math.SQRT2), 1e-6)
    expect(with_(10)).toBe(plain)
    expectClose(with_(30), with_(20), 1e-9)
    expect(with_(31)).toBe(plain)
  })

  test('is unsure by the share that the rate is', () => {
    const curve = { ...curveOf((t) => 1300 - 3 * t), rateShare: 0.2 }
    expectClose(slopeBetween(curve, 0, 40)!.standardUncertainty, 0.6, 1e-6)
  })

  test('is sure enough where twice its ± is a tenth of it', () => {
    const limit = (share: number) =>
      slopeBetween({ ...curveOf((t) => 1300 - 3 * t), rateShare: share }, 0, 40)!.limit
    expect(limit(0.048)).toBeNull()
    expect(limit(0.052)).not.toBeNull()
  })
})

describe('the slope at a time', () => {
  test('is by a longer window the straighter the curve is', () => {
    const straight = slopeAt(
      curveOf((t) => 1300 - 3 * t),
      50,
    )!
    expect(straight.toSeconds - straight.fromSeconds).toBeGreaterThan(90)
    const kink = curveOf((t) => 1300 - 3 * Math.max(t - 50, 0), { noiseK: 0.05 })
    const [before, after] = [slopeAt(kink, 40)!, slopeAt(kink, 60)!]
    expect(Math.abs(before.slope)).toBeLessThan(0.1)
    expect(before.toSeconds).toBeLessThan(55)
    expectClose(after.slope, -3, 0.02)
    expect(after.fromSeconds).toBeGreaterThan(45)
  })

  test('at either end is one-sided, outside of the curve none', () => {
    const curve = curveOf((t) => 1300 - 3 * t)
    expectClose(slopeAt(curve, 0)!.slope, -3, 1e-6)
    expectClose(slopeAt(curve, 99.5)!.slope, -3, 1e-6)
    expect(slopeAt(curve, 0)!.readings).toBeLessThan(10)
    expect(slopeAt(curve, -1)).toBeNull()
    expect(slopeAt(curve, 100)).toBeNull()
  })

  test('does not look over a gap', () => {
    const gap = curveOf((t) => (t < 40 ? 1300 - 3 * t : t < 60 ? Number.NaN : 1000 + t))
    expectClose(slopeAt(gap, 38)!.slope, -3, 1e-6)
    expectClose(slopeAt(gap, 62)!.slope, 1, 1e-6)
    expect(slopeAt(gap, 50)).toBeNull()
  })
})

describe('a passage', () => {
  test('scatters in time as much as it says', () => {
    const of = (seed: number) =>
      crossingsOf(
        curveOf((t) => 1300 - 3 * t, { noiseK: 2, seed }),
        1150.7,
      )[0]!
    const ratio = rmsOf((seed) => (of(seed).seconds - 149.3 / 3) / of(seed).byNoise)
    expect(ratio).toBeGreaterThan(0.4)
    expect(ratio).toBeLessThan(1.15)
  })

  test('of a bent curve is where the bend goes through it', () => {
    // 1250 = 1300 - 0.02 t² at 50 s, with a rate of 2 K/s.
    const [found] = crossingsOf(
      curveOf((t) => 1300 - 0.02 * t * t),
      1250,
    )
    expect(Math.abs(found!.seconds - 50)).toBeLessThan(0.01)
    expectClose(found!.slope, -2, 0.01)
  })

  test('that begins at the level itself is none', () => {
    expect(
      crossingsOf(
        curveOf((t) => 1300 - 3 * t),
        1300,
      ),
    ).toEqual([])
    expect(
      crossingsOf(
        curveOf(() => 1300),
        1300,
      ),
    ).toEqual([])
  })
})

test('a peak is as sure as the mean of its five readings, and as what shifts the curve', () => {
  const curve = curveOf((t) => 1200 - 0.3 * Math.abs(t - 50), { noiseK: 1, commonK: 9, seed: 4 })
  const { sdK, inflation } = curveNoise(readingsOf(curve))
  const { standardUncertaintyK } = peakOf(curve)!
  expectClose(standardUncertaintyK, Math.hypot((sdK * inflation) / Math.sqrt(5), 9), 1e-9)
  expect(peakOf(curveOf(() => Number.NaN))).toBeNull()
  // Fewer readings than five: the mean of those.
  const three = curveOf((t) => 1200 + t, { count: 3, step: 1 })
  expect(peakOf(three)).toMatchObject({ temperatureK: 1201, seconds: 1 })
  // The very last readings may be the highest.
  const rising = curveOf((t) => 1200 + t, { count: 20, step: 1 })
  expect(peakOf(rising)).toMatchObject({ temperatureK: 1217, seconds: 17 })
})

test('what would make a rate surer: exposure locked by the ratio, the tone curve by the level, or nothing', () => {
  const course = { temperatureK: Float32Array.of(1200, 1200), lnRed: Float32Array.of(0, 0) }
  const of = (by: 'level' | 'ratio', swept: boolean) => limitOfRate(rateShare(course, by, swept))
  expect(of('ratio', false)).toBe('exposure')
  expect(of('ratio', true)).toBe('exposure')
  expect(of('level', false)).toBe('tone curve')
  expect(of('level', true)).toBeNull()
  expect(limitOfRate(0)).toBeNull()
})
