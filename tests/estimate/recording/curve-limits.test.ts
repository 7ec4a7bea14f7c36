import { describe, expect, test } from 'vitest'
import { courseAtEnd } from '../../../src/estimate/recording/course.ts'
import { rateShare } from '../../../src/estimate/recording/course-by-level.ts'
import { curveNoise, withoutStrays } from '../../../src/estimate/recording/curve-noise.ts'
import { exposureJumps } from '../../../src/estimate/recording/exposure-jumps.ts'
import type { HeatCurve } from '../../../src/estimate/recording/heat-curve.ts'
import { fitLaws } from '../../../src/estimate/recording/laws.ts'
import { meaningsOf } from '../../../src/estimate/recording/plateau-meaning.ts'
import type { Plateau } from '../../../src/estimate/recording/plateaus.ts'
import { exponentialTemperature } from '../../../src/physics/cooling.ts'
import { kelvinFromCelsius } from '../../../src/physics/units.ts'

/** Readings once a second, unless said. */
function curveOf(truth: (t: number) => number, count: number, commonK = 0): HeatCurve {
  const seconds = Float64Array.from({ length: count }, (_, i) => i)
  return {
    seconds,
    temperatureK: seconds.map(truth),
    noiseK: seconds.map(() => 1),
    commonK: seconds.map(() => commonK),
  }
}

describe('a course at its end', () => {
  test('is steady up to 2 K a minute, either way', () => {
    const at = (perMinute: number) =>
      courseAtEnd(
        curveOf((t) => 1100 + (perMinute / 60) * t, 120),
        60,
      )?.verdict
    expect([-2.1, -1.9, 1.9, 2.1].map(at)).toEqual(['falling', 'steady', 'steady', 'rising'])
  })

  test('is told where it is so nine times in ten', () => {
    /** Scatter without draws. */
    const noise = (t: number) => 3 * Math.sin(97 * t * t)
    const at = (perMinute: number) =>
      courseAtEnd(
        curveOf((t) => 1100 + (perMinute / 60) * t + noise(t), 120),
        60,
      )!
    let [unsure, sure] = [2, 20]
    for (let i = 0; i < 20; i++) {
      const middle = (unsure + sure) / 2
      if (at(middle).verdict === 'rising') sure = middle
      else unsure = middle
    }
    expect(at(unsure).verdict).toBe('not known')
    for (const perMinute of [unsure, sure]) expect(at(perMinute).sureness).toBeCloseTo(0.9, 2)
  })
})

test('brightness says how fast a course goes from a change of a fifth on', () => {
  const share = (change: number) =>
    rateShare(
      {
        temperatureK: Float32Array.from([1300, 1299.5, 1299]),
        lnRed: Float32Array.from([0, -change / 2, -change]),
      },
      'ratio',
      false,
    )
  // Nothing is known but what films by the ratio err by.
  expect(share(0.19)).toBe(0.6)
  expect(share(0.21)).toBeGreaterThan(1)
})

test('a reading five standard deviations off those about it is a stray one', () => {
  const off = (deviations: number) => {
    // Level for seven readings, so that their median is known.
    const temperatureK = Float64Array.from({ length: 600 }, (_, i) =>
      Math.abs(i - 300) <= 3 ? 1200 : 1200 + 2 * Math.sin(2.4 * i),
    )
    const seconds = Float64Array.from(temperatureK.keys())
    const { sdK } = curveNoise({ seconds, temperatureK })
    const struck = temperatureK.with(300, 1200 + deviations * sdK)
    return 600 - withoutStrays({ seconds, temperatureK: struck }).seconds.length
  }
  expect([-5.3, -4.7, 4.7, 5.3].map(off)).toEqual([1, 0, 0, 1])
})

describe('a change of exposure', () => {
  /** Light of one colour that changes by `slope` a reading about the step, by `far` elsewhere. */
  const found = (step: number, slope: number, far = slope) => {
    let level = 0
    const lnRed = Array.from({ length: 400 }, (_, i) => {
      level += Math.abs(i - 200) <= 45 ? slope : far
      return level + (i >= 200 ? step : 0)
    })
    return exposureJumps(
      lnRed.map(() => -2),
      lnRed,
    ).length
  }

  test('is a tenth of its light at least', () => {
    expect([0.094, 0.104].map((step) => found(step, 1e-5))).toEqual([0, 1])
  })

  test('stands eight standard deviations out of what its light changes by from five readings to five', () => {
    // The median of steps of 0.1 is that; 1.4826 times it is a standard deviation.
    const stands = (deviations: number) => found(deviations * 1.4826 * 0.1 - 0.1, 0.02)
    expect([7.6, 8.4].map(stands)).toEqual([0, 1])
  })

  test('stands five standard deviations out of what it changes by about the place', () => {
    const stands = (deviations: number) => found(deviations * 1.4826 * 0.1 - 0.1, 0.02, 0.001)
    expect([4.75, 5.25].map(stands)).toEqual([0, 1])
  })
})

describe('a law of heating or cooling', () => {
  const law = (t: number) => exponentialTemperature(1250, 950, 60, t)

  test('takes twenty readings', () => {
    const fits = (count: number) =>
      fitLaws(
        curveOf((t) => law(5 * t), count),
        0,
        count,
        293,
      ).length
    expect(fits(19)).toBe(0)
    expect(fits(20)).toBeGreaterThan(0)
  })

  test('does not fit where it would leave so much one time in a hundred', () => {
    const at = (heightK: number) =>
      fitLaws(
        curveOf((t) => law(2 * t) + Math.sin(97 * t * t) + heightK * Math.sin(t / 8), 100),
        0,
        100,
        293,
      ).find((one) => one.law === 'exponential')!
    let [fits, not] = [0, 10]
    for (let i = 0; i < 11; i++) {
      const middle = (fits + not) / 2
      if (at(middle).fits) fits = middle
      else not = middle
    }
    expect([at(fits).fits, at(not).fits]).toEqual([true, false])
    for (const heightK of [fits, not]) expect(at(heightK).probability / 0.01).toBeCloseTo(1, 1)
  })
})

test('a plateau may be a melt within two and a half standard uncertainties', () => {
  const silver = kelvinFromCelsius(961.78)
  const offered = (away: number) => {
    const plateau = {
      kind: 'plateau',
      during: 'cooling',
      levelK: silver + away * 100,
      levelUncertaintyK: 100,
    } as Plateau
    return meaningsOf(plateau, 0).some(
      ({ id, condition }) => id === 'silver' && condition === 'covered',
    )
  }
  expect([-2.55, -2.45, 2.45, 2.55].map(offered)).toEqual([false, true, true, false])
})
