import { describe, expect, test } from 'vitest'
import { courseAtEnd } from '../../../src/estimate/recording/course.ts'
import { rateShare } from '../../../src/estimate/recording/course-by-level.ts'
import { curveNoise, withoutStrays } from '../../../src/estimate/recording/curve-noise.ts'
import { exposureJumps } from '../../../src/estimate/recording/exposure-jumps.ts'
import type { HeatCurve } from '../../../src/estimate/recording/heat-curve.ts'
import { fitLaws } from '../../../src/estimate/recording/laws.ts'
import { meaningsOf } from '../../../src/estimate/recording/plateau-meaning.ts'
import { findPlateaus, type Plateau } from '../../../src/estimate/recording/plateaus.ts'
import { scaleByHeats } from '../../../src/estimate/recording/set-by-heats.ts'
import { slopeBetween } from '../../../src/estimate/recording/slope.ts'
import { plateausOf } from '../../../src/estimate/recording/slows-in-brightness.ts'
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

describe('a plateau', () => {
  /** Falls by `rate` K/s for 20 s, goes on at a share of that for `long` s, falls on; noise without draws. */
  function stands(share: number, { rate = 4, long = 12, noiseK = 0.02 } = {}) {
    const seconds = Float64Array.from({ length: 5 * (40 + long) }, (_, i) => i / 5)
    const way = (t: number) =>
      Math.min(t, 20) + share * Math.min(Math.max(t - 20, 0), long) + Math.max(t - 20 - long, 0)
    const temperatureK = seconds.map((t, i) => 1280 - rate * way(t) + noiseK * Math.sin(97 * i * i))
    return { seconds, temperatureK, way }
  }
  const kind = (share: number, more = {}) => findPlateaus(stands(share, more))[0]?.kind ?? null

  test('stands below a fifth of the rate about it, and turns back beyond a fifth', () => {
    expect([-0.215, -0.185, 0.185, 0.215].map((share) => kind(share))).toEqual([
      'reversal',
      'plateau',
      'plateau',
      'slowing',
    ])
  })

  test('is slower than six tenths of the rate about it', () => {
    expect([0.575, 0.625].map((share) => kind(share))).toEqual(['slowing', null])
  })

  test('holds the curve back by one kelvin and a half', () => {
    const held = (kelvin: number) => kind(0, { rate: kelvin / 12, noiseK: 0.002 })
    expect([1.4, 1.6].map(held)).toEqual([null, 'plateau'])
  })

  test('stands six standard errors out of the noise', () => {
    const at = (noiseK: number) => findPlateaus(stands(0, { long: 5, noiseK }))[0]
    let [told, hidden] = [1, 30]
    for (let i = 0; i < 9; i++) {
      const middle = (told + hidden) / 2
      if (at(middle)) told = middle
      else hidden = middle
    }
    expect(Math.abs(at(told)!.significance / 6 - 1)).toBeLessThan(0.05)
  })

  test('shows half of its slowing in the brightness too', () => {
    const shown = (share: number) => {
      const { seconds, temperatureK, way } = stands(0)
      const { way: byLight } = stands(1 - share)
      expect(way(30)).toBeLessThan(byLight(30))
      return plateausOf({
        seconds,
        temperatureK,
        noiseK: seconds.map(() => 0.02),
        commonK: seconds.map(() => 20),
        lnRed: seconds.map((t) => -0.06 * byLight(t)),
      }).length
    }
    expect([0.47, 0.53].map(shown)).toEqual([0, 1])
  })
})

describe('heats that set a curve', () => {
  // ITS-90: freezing points of silver and copper, K.
  const [SILVER_K, COPPER_K] = [1234.93, 1357.77]
  const heat = (temperatureK: number, offK: number) => ({
    seconds: 20,
    readK: temperatureK + offK,
    temperatureK,
    standardUncertaintyK: 3,
  })

  test('may part by three standard deviations', () => {
    // One melt twice: each lies half of it off, so that it counts as offK / sqrt 2 of 3 K.
    const agrees = (deviations: number) =>
      scaleByHeats([heat(SILVER_K, 0), heat(SILVER_K, deviations * 3 * Math.SQRT2)], 0.6).agrees
    expect([-3.15, -2.85, 2.85, 3.15].map(agrees)).toEqual([false, true, true, false])
  })

  test('may stretch it by twice what its rate is known to', () => {
    const of = (offK: number) => scaleByHeats([heat(SILVER_K, 0), heat(COPPER_K, offK)], 0.6)
    let [agrees, not] = [-50, -90]
    for (let i = 0; i < 20; i++) {
      const middle = (agrees + not) / 2
      if (of(middle).agrees) agrees = middle
      else not = middle
    }
    expect([agrees, not].map((offK) => of(offK).agrees)).toEqual([true, false])
    expect((of(not).stretch - 1) / 0.6).toBeCloseTo(2, 1)
  })
})

test('a rate is sure enough where it is known to a tenth, twice its standard uncertainty', () => {
  // What shifts the whole curve counts twice its share of the temperature (Wien): 1240 K in the middle.
  const limit = (share: number) =>
    slopeBetween(
      curveOf((t) => 1300 - 3 * t, 41, (share * 1240) / 4),
      0,
      40,
    )!.limit
  expect([0.095, 0.105].map(limit)).toEqual([null, 'scale'])
})
