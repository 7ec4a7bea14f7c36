import { describe, expect, test } from 'vitest'
import { crossingsOf, passage, timeAbove } from '../../../src/estimate/recording/crossings.ts'
import {
  correlatedError,
  curveNoise,
  withoutStrays,
} from '../../../src/estimate/recording/curve-noise.ts'
import {
  commonUncertaintyAt,
  firstAtOrAfter,
  type HeatCurve,
  readingsOf,
  stretchesOf,
  usualStep,
} from '../../../src/estimate/recording/heat-curve.ts'
import { LineSums } from '../../../src/estimate/recording/line-sums.ts'
import { seeded } from '../../accuracy/random.ts'
import { expectClose } from '../../close-to.ts'

const curveOf = (
  seconds: readonly number[],
  truth: (t: number) => number,
  commonK = 0,
): HeatCurve => ({
  seconds,
  temperatureK: seconds.map(truth),
  noiseK: seconds.map(() => 1),
  commonK: seconds.map(() => commonK),
})
const every = (count: number, step = 1) => Array.from({ length: count }, (_, i) => i * step)
const readings = (values: readonly number[]) => ({
  seconds: Float64Array.from(values.keys()),
  temperatureK: Float64Array.from(values),
})

describe('readings of a curve', () => {
  test('leave out gaps and what lies outside a stretch of time, both ends included', () => {
    const curve = curveOf(every(6), (t) => (t === 2 ? Number.NaN : 1000 + t))
    expect([...readingsOf(curve).seconds]).toEqual([0, 1, 3, 4, 5])
    expect([...readingsOf(curve, 1, 4).seconds]).toEqual([1, 3, 4])
    expect([...readingsOf(curve, 1.5, 3.5).temperatureK]).toEqual([1003])
    expect([...readingsOf(curve, 6, 9).seconds]).toEqual([])
  })

  test('are found by time', () => {
    const seconds = Float64Array.from([0, 1, 1, 2])
    expect([-1, 0, 0.5, 1, 1.5, 2, 3].map((at) => firstAtOrAfter(seconds, at))).toEqual([
      0, 0, 1, 1, 3, 3, 4,
    ])
  })

  test('have a usual step, and a gap beyond four of it that is longer than 2 s', () => {
    expect(usualStep([0, 1, 2, 9])).toBe(1)
    expect(usualStep([3])).toBeNaN()
    const at = (seconds: number[]) =>
      stretchesOf({
        seconds: Float64Array.from(seconds),
        temperatureK: new Float64Array(seconds.length),
      })
    expect(at([0, 1, 2, 6, 7])).toEqual([[0, 5]])
    expect(at([0, 1, 2, 6.1, 7])).toEqual([
      [0, 3],
      [3, 5],
    ])
    // Ten a second: a missing second is no gap yet.
    expect(at([0, 0.1, 0.2, 2.2, 2.3])).toEqual([[0, 5]])
    expect(at([0, 0.1, 0.2, 2.25, 2.3])).toHaveLength(2)
    expect(at([])).toEqual([])
  })

  test('share what shifts the curve at the nearest temperature', () => {
    const curve = { ...curveOf(every(3), (t) => 1000 + 100 * t), commonK: [5, 6, 7] }
    expect(commonUncertaintyAt(curve, 1140)).toBe(6)
    expect(commonUncertaintyAt(curve, 1160)).toBe(7)
    expect(commonUncertaintyAt({ ...curve, temperatureK: [Number.NaN] }, 1000)).toBeNaN()
  })
})

describe('a straight line through readings', () => {
  // By hand: mean 3, slope 7 / 5.
  const sums = new LineSums(readings([1, 3, 2, 6]))

  test('has mean, slope, its error and the residuals of least squares', () => {
    const line = sums.line(0, 4)
    expect(line.count).toBe(4)
    expect(line.middleSeconds).toBeCloseTo(1.5, 12)
    expect(line.meanK).toBeCloseTo(3, 12)
    expect(line.slope).toBeCloseTo(1.4, 12)
    expect(line.slopeErrorPerK).toBeCloseTo(1 / Math.sqrt(5), 12)
    const residuals = [1, 3, 2, 6].map((y, t) => y - 3 - 1.4 * (t - 1.5))
    expect(line.squares).toBeCloseTo(
      residuals.reduce((sum, r) => sum + r * r, 0),
      12,
    )
  })

  test('is level and unsure with fewer than three', () => {
    expect(sums.line(0, 2)).toMatchObject({
      slope: 0,
      slopeErrorPerK: Number.POSITIVE_INFINITY,
      meanK: 2,
    })
    expect(sums.line(1, 4).slope).toBeCloseTo(1.5, 12)
  })
})

describe('the noise of a curve', () => {
  const random = seeded(12)
  const white = Array.from({ length: 600 }, (_, i) => 1200 - 0.5 * i + 2 * random.normal())

  test('is its scatter, whatever its slope and bend', () => {
    const { sdK, inflation } = curveNoise(readings(white))
    expectClose(sdK, 2, 0.12)
    expect(inflation).toBeGreaterThanOrEqual(1)
    expect(inflation).toBeLessThan(2)
    const bent = white.map((value, i) => value + 1e-3 * i * i)
    expectClose(curveNoise(readings(bent)).sdK, 2, 0.12)
  })

  test('of values that alternate, as those of a logger in whole degrees, is a number', () => {
    for (const pattern of [
      [1200, 1201],
      [1200, 1202, 1201],
    ]) {
      const { sdK, inflation } = curveNoise(
        readings(Array.from({ length: 600 }, (_, i) => pattern[i % pattern.length]!)),
      )
      expect(sdK).toBeGreaterThan(0)
      expect(sdK).toBeLessThan(2)
      expect(inflation).toBeGreaterThanOrEqual(1)
      expect(inflation).toBeLessThan(2)
    }
  })

  test('that neighbours share stays when readings are averaged', () => {
    let drift = 0
    const shared = Array.from({ length: 600 }, () => {
      drift = 0.9 * drift + random.normal()
      return 1200 + drift
    })
    expect(curveNoise(readings(shared)).inflation).toBeGreaterThan(2.5)
  })

  test('is not known of twelve readings, and is of thirteen', () => {
    expect(curveNoise(readings(white.slice(0, 12)))).toEqual({ sdK: 0, inflation: 1 })
    expect(curveNoise(readings(white.slice(0, 13))).sdK).toBeGreaterThan(0)
  })

  test('leaves out single readings beyond five standard deviations of it', () => {
    const with_ = (off: number) => {
      const flat = white.map((_, i) => 1200 + 2 * Math.sin(2.4 * i))
      const { sdK } = curveNoise(readings(flat))
      flat[300] = 1200 + off * sdK
      return withoutStrays(readings(flat)).seconds.length
    }
    expect(with_(4)).toBe(600)
    expect(with_(7)).toBe(599)
    expect(with_(-7)).toBe(599)
  })

  test('of residuals is their scatter times what goes on from one to the next', () => {
    const residuals = Float64Array.from(white, (value, i) => value - 1200 + 0.5 * i)
    expectClose(correlatedError(residuals), 2, 0.15)
    // First-order autoregression: sqrt((1 + a) / (1 - a)) times the scatter (Sokal 1997).
    let drift = 0
    const shared = Float64Array.from({ length: 4000 }, () => {
      drift = 0.8 * drift + random.normal()
      return drift
    })
    expectClose(correlatedError(shared), Math.sqrt(1 / (1 - 0.64)) * 3, 0.2)
    expect(correlatedError(new Float64Array(9))).toBe(0)
  })
})

describe('passages through a temperature', () => {
  const fall = curveOf(every(101, 0.5), (t) => 1300 - 4 * t)
  const hill = curveOf(every(241, 0.5), (t) => (t < 50 ? 1000 + 4 * t : 1200 - 2 * (t - 50)))

  test('are where a straight curve goes through it, with its rate', () => {
    const [one, ...more] = crossingsOf(fall, 1201)
    expect(more).toEqual([])
    expect(one!.seconds).toBeCloseTo(24.75, 4)
    expect(one!.slope).toBeCloseTo(-4, 4)
    expect(crossingsOf(fall, 1350)).toEqual([])
  })

  test('come in order, up and down', () => {
    const found = crossingsOf(hill, 1100)
    expect(found.map(({ seconds }) => Math.round(seconds))).toEqual([25, 100])
    expect(found.map(({ slope }) => Math.sign(slope))).toEqual([1, -1])
  })

  test('a single reading makes none', () => {
    const spark = curveOf(every(101, 0.5), (t) => (t === 30 ? 1400 : 1250 - t))
    expect(crossingsOf(spark, 1300)).toEqual([])
  })

  test('enclose the time above it; gaps count for nothing', () => {
    expect(timeAbove(hill, 1100).seconds).toBeCloseTo(75, 1)
    expect(timeAbove(fall, 1000).seconds).toBe(50)
    expect(timeAbove(fall, 1201).seconds).toBeCloseTo(24.75, 2)
    const rise = curveOf(every(101, 0.5), (t) => 1000 + 4 * t)
    expect(timeAbove(rise, 1101).seconds).toBeCloseTo(50 - 25.25, 2)
    const gap = curveOf(
      every(101, 0.5).filter((t) => t < 10 || t > 20),
      () => 1200,
    )
    expect(timeAbove(gap, 1100).seconds).toBeCloseTo(9.5 + 29.5, 6)
    // Down, up and down again, from above: 12.5 s, 25 s, and 25 s once more.
    const waves = (start: number) =>
      curveOf(every(201, 0.5), (t) => start - 50 + Math.abs(((t + 50) % 50) - 25) * 4)
    expect(timeAbove(waves(1100), 1100).seconds).toBeCloseTo(50, 0)
    expect(timeAbove(waves(1100), 1075).seconds).toBeCloseTo(75, 0)
    expect(timeAbove(waves(1100), 1125).seconds).toBeCloseTo(25, 0)
  })

  test('a shift of the whole curve moves them by its size over the rate', () => {
    const shifted = curveOf(every(101, 0.5), (t) => 1300 - 4 * t, 8)
    // 8 K at 4 K/s are 2 s; of a time between two passages only the difference is left.
    expectClose(timeAbove(shifted, 1201).standardUncertainty, 2, 0.01)
    const between = passage(shifted, 1250, 1150)
    if (between.kind !== 'passed') throw new Error(between.kind)
    expect(between.seconds).toBeCloseTo(25, 3)
    expect(between.standardUncertainty).toBeLessThan(0.1)
  })

  test('from one to another take the last start before the first end, in its direction', () => {
    const twice = curveOf(every(301, 0.5), (t) =>
      t < 25 ? 1100 - 4 * t : t < 50 ? 1000 + 4 * (t - 25) : 1100 - 4 * (t - 50),
    )
    // Down through 1050 at 12.5 s and at 62.5 s, through 950 at 87.5 s.
    const found = passage(twice, 1050, 950)
    if (found.kind !== 'passed') throw new Error(found.kind)
    expect(found.fromSeconds).toBeCloseTo(62.5, 1)
    expect(found.seconds).toBeCloseTo(25, 1)
    expect(passage(twice, 1050, 300)).toEqual({ kind: 'not reached', which: 'to' })
    expect(passage(hill, 1250, 1100)).toEqual({ kind: 'not reached', which: 'from' })
    const up = passage(hill, 1050, 1150)
    if (up.kind !== 'passed') throw new Error(up.kind)
    // The top of the hill is bent.
    expect(up.seconds).toBeCloseTo(25, 0)
  })
})
