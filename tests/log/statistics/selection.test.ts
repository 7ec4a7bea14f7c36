import { describe, expect, test } from 'vitest'
import type { Result, Summary } from '../../../src/log/schema/types.ts'
import { compareResults } from '../../../src/log/statistics/compare.ts'
import { seriesPoints } from '../../../src/log/statistics/series.ts'
import type { Budgeted } from '../../../src/log/statistics/shared-terms.ts'
import { statisticsOf } from '../../../src/log/statistics/statistics.ts'
import { symmetricResult } from '../../../src/log/statistics/symmetric-result.ts'
import { value } from '../budgeted.ts'

const result = ({ temperatureK, standardUncertaintyK, budget }: Budgeted) =>
  symmetricResult(temperatureK, standardUncertaintyK, [...budget], '1')

describe('statistics of a selection', () => {
  test('have the plain figures beside the weighted ones', () => {
    // By hand: weights 1/100 and 1/400, in all 0.8 and 0.2.
    const s = statisticsOf([value(1000, 10), value(1010, 20)])!
    expect(s).toMatchObject({ count: 2, coldestK: 1000, hottestK: 1010, meanK: 1005, betweenK: 0 })
    expect(s.standardDeviationK).toBeCloseTo(Math.sqrt(50), 9)
    expect(s.weights[0]).toBeCloseTo(0.8, 9)
    expect(s.weightedMeanK).toBeCloseTo(1002, 9)
    expect(s.standardUncertaintyK).toBeCloseTo(Math.sqrt(80), 9)
    expect([s.commonK, s.partlyUnknown, s.causes]).toEqual([0, false, []])
    // chi² = 10²/500 on one degree of freedom.
    expect(s.birgeRatio).toBeCloseTo(Math.sqrt(0.2), 9)
  })

  test('name the causes that two and more share, the weightiest first, by their part in the mean', () => {
    const terms = { small: 2, large: 30, middle: -5 }
    const s = statisticsOf([
      value(1000, 10, terms),
      value(1000, 10, terms),
      value(1000, 10, { own: 9 }),
    ])!
    expect(s.causes.map(({ sharedBy }) => sharedBy)).toEqual(['large', 'middle', 'small'])
    for (const { term } of s.causes) expect(term).toBe('common')
    // Two of three hold them: the part is the weight of these two.
    const held = s.weights[0]! + s.weights[1]!
    expect(s.causes.map(({ contributionK }) => contributionK / held)).toEqual([
      expect.closeTo(30, 6),
      expect.closeTo(5, 6),
      expect.closeTo(2, 6),
    ])
    const common = Math.hypot(...s.causes.map(({ contributionK }) => contributionK))
    expect(s.commonK).toBeCloseTo(common, 9)
    expect(s.standardUncertaintyK).toBeCloseTo(Math.hypot(s.commonK, s.independentK), 9)
    // What one has alone is its own: 10² and 9² of the third.
    const own = [100, 100, 181].reduce((sum, u2, i) => sum + s.weights[i]! ** 2 * u2, 0)
    expect(s.independentK).toBeCloseTo(Math.sqrt(own), 6)
  })

  test('let a common cause that errs both ways cancel in the mean', () => {
    const s = statisticsOf([value(1000, 10, { window: 20 }), value(1000, 10, { window: -20 })])!
    expect(s.commonK).toBeCloseTo(0, 6)
    expect(s.standardUncertaintyK).toBeCloseTo(10 / Math.SQRT2, 6)
  })

  test('count what has no budget as one cause of all that lack one, and not as a named one', () => {
    const bare = (temperatureK: number, standardUncertaintyK: number): Budgeted => ({
      temperatureK,
      standardUncertaintyK,
      budget: [],
    })
    const s = statisticsOf([bare(1000, 30), value(1000, 30)])!
    expect([s.partlyUnknown, s.causes]).toEqual([true, []])
    expect(s.standardUncertaintyK).toBeCloseTo(30 / Math.SQRT2, 6)
    expect(statisticsOf([bare(1000, 30), bare(1010, 30)])!.commonK).toBeCloseTo(30, 3)
    expect(statisticsOf([bare(1000, 0)])).toMatchObject({
      partlyUnknown: false,
      weightedMeanK: 1000,
    })
  })

  test('are finite for readings without any uncertainty, which weigh alike', () => {
    const s = statisticsOf([value(1000, 0), value(1010, 0)])!
    expect(s.weightedMeanK).toBeCloseTo(1005, 9)
    expect(s.weights[0]).toBeCloseTo(0.5, 9)
    // All of the scatter is between them: 10² = 2 tau².
    expect(s.betweenK).toBeCloseTo(Math.sqrt(50), 3)
  })

  test('weigh by own uncertainties alone where least squares would go below zero', () => {
    // Contributions are levelled; the third shares nothing and is hardly known.
    const s = statisticsOf([
      value(1000, 1, { a: 50 }),
      value(1000, 1, { a: 50, b: 50 }),
      value(1000, 1, { a: 50, b: 50, c: 50 }),
      value(1000, 1, { a: 50, b: 50, c: 50, d: 50 }),
      value(1000, 1, { d: 50 }),
    ])!
    for (const weight of s.weights) expect(weight).toBeGreaterThanOrEqual(0)
    expect(s.weights.reduce((a, b) => a + b)).toBeCloseTo(1, 9)
  })

  test('take sixty causes for common, and further ones for own', () => {
    const terms = (count: number) =>
      Object.fromEntries(Array.from({ length: count }, (_, i) => [`c${i}`, 10]))
    const of = (count: number) =>
      statisticsOf([value(1000, 10, terms(count)), value(1000, 10, terms(count))])!
    expect(of(60).causes).toHaveLength(60)
    expect(of(61).causes).toHaveLength(60)
    // The one beyond is averaged with the rest: half of 10² and 10².
    expect(of(61).independentK).toBeCloseTo(10, 6)
    expect(of(60).independentK).toBeCloseTo(Math.sqrt(50), 6)
  })
})

describe('two readings compared', () => {
  test('name what both share, the weightiest first, and nothing that one has alone', () => {
    const one = value(1000, 1, { small: 2, large: 10, mine: 50, nothing: 0 })
    const two = value(1010, 1, { large: -10, small: 3, theirs: 60, nothing: 5 })
    const comparison = compareResults(result(one), result(two))
    expect(comparison.sharedCauses.map(({ sharedBy }) => sharedBy)).toEqual(['large', 'small'])
    expect(comparison.differenceK).toBe(-10)
    // (10 + 10)² + (2 - 3)² + 50² + 60² + 5² + 1 + 1, by hand.
    expect(comparison.standardUncertaintyK).toBeCloseTo(
      Math.sqrt(400 + 1 + 2500 + 3600 + 25 + 2),
      9,
    )
    const [ua, ub] = [one.standardUncertaintyK, two.standardUncertaintyK]
    expect(comparison.correlation).toBeCloseTo((-100 + 6) / (ua * ub), 12)
    expect(comparison.ifIndependentK).toBeCloseTo(Math.hypot(ua, ub), 12)
  })

  test('without any uncertainty have no correlation', () => {
    const sure = result(value(1000, 0))
    expect(compareResults(sure, sure)).toMatchObject({
      correlation: 0,
      standardUncertaintyK: 0,
      verdict: 'no difference shown',
    })
    expect(compareResults(sure, result(value(1001, 0))).verdict).toBe('differ')
  })

  test('of which one has no figure say nothing but whether a bound decides', () => {
    const bound = (temperatureK: number): Result => ({
      kind: 'upper bound',
      temperatureK,
      methodVersion: '1',
    })
    const none: Result = { kind: 'none', reason: 'dark', methodVersion: '1' }
    const found = result(value(1000, 40))
    const nothing = {
      differenceK: null,
      standardUncertaintyK: null,
      ifIndependentK: null,
      correlation: null,
      sharedCauses: [],
      partlyUnknown: false,
    }
    for (const [a, b, verdict] of [
      [found, bound(919), 'differ'],
      [bound(919), found, 'differ'],
      // Its interval ends at 920 K.
      [found, bound(920), 'undecided'],
      [bound(1100), found, 'undecided'],
      [found, none, 'undecided'],
      [none, none, 'undecided'],
      [bound(900), bound(1000), 'undecided'],
    ] as const)
      expect(compareResults(a, b)).toEqual({ ...nothing, verdict })
  })
})

test('a symmetric result has an interval of two standard uncertainties to either side', () => {
  expect(result(value(1000, 10))).toMatchObject({
    kind: 'temperature',
    expandedUncertaintyK: 20,
    interval95K: [980, 1020],
    methodVersion: '1',
  })
})

test('a series leaves out damaged readings, and draws one without an interval at its value', () => {
  const base = {
    id: 'a',
    damaged: false,
    simulated: true,
    kind: 'temperature',
    temperatureK: 1000,
    interval95K: null,
    takenAtMs: 5,
    volts: null,
    watts: 0,
  } as unknown as Summary
  const point = { id: 'a', kind: 'temperature', temperatureK: 1000, simulated: true }
  expect(seriesPoints([base, { ...base, damaged: true }], 'time')).toEqual([
    { ...point, x: 5, lowerK: 1000, upperK: 1000 },
  ])
  expect(seriesPoints([base], 'watts')).toHaveLength(1)
  expect(seriesPoints([base], 'volts')).toEqual([])
  expect(seriesPoints([{ ...base, kind: 'none' }], 'time')).toEqual([])
  expect(seriesPoints([{ ...base, temperatureK: null }], 'time')).toEqual([])
  const bound = { ...base, kind: 'upper bound', interval95K: [1, 2] } as unknown as Summary
  expect(seriesPoints([bound], 'time')).toMatchObject([{ lowerK: null, upperK: 2 }])
})
