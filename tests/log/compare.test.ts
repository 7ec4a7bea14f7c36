import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Result, Summary } from '../../src/log/schema/types.ts'
import { compareResults, verdictOf } from '../../src/log/statistics/compare.ts'
import { seriesPoints } from '../../src/log/statistics/series.ts'
import type { Budgeted } from '../../src/log/statistics/shared-terms.ts'
import { value } from './budgeted.ts'

function result(of: Budgeted): Result {
  const half = 2 * of.standardUncertaintyK
  return {
    kind: 'temperature',
    ...of,
    budget: [...of.budget],
    expandedUncertaintyK: half,
    interval95K: [of.temperatureK - half, of.temperatureK + half],
    methodVersion: '1',
  }
}

describe('two readings', () => {
  it('without anything in common differ as independent ones (GUM, JCGM 100, 5.1.2)', () => {
    const { differenceK, standardUncertaintyK, verdict } = compareResults(
      result(value(1200, 30)),
      result(value(1120, 40)),
    )
    expect([differenceK, standardUncertaintyK, verdict]).toEqual([80, 50, 'no difference shown'])
  })

  it('of one camera tell a difference that their intervals hide', () => {
    const a = value(1200, 3, { camera: 60, surface: 5 })
    const b = value(1180, 4, { camera: 60, surface: 5 })
    const comparison = compareResults(result(a), result(b))
    expect(comparison).toMatchObject({
      standardUncertaintyK: 5,
      verdict: 'differ',
      sharedCauses: [
        { term: 'common', sharedBy: 'camera' },
        { term: 'common', sharedBy: 'surface' },
      ],
      partlyUnknown: false,
    })
    expect(comparison.ifIndependentK).toBeGreaterThan(80)
    // Covariance over the product of the uncertainties, by hand: 3625 / sqrt(3634 * 3641).
    expect(comparison.correlation).toBeCloseTo(3625 / Math.sqrt(3634 * 3641), 12)
  })

  it('keep apart two terms that one thing causes: they do not err together', () => {
    const budget = [
      { term: 'camera', contributionK: 30, sharedBy: 'phone' },
      { term: 'reference photo', contributionK: 40, sharedBy: 'phone' },
    ]
    const a = { temperatureK: 1000, standardUncertaintyK: 50, budget }
    const b = { temperatureK: 1000, standardUncertaintyK: 30, budget: budget.slice(0, 1) }
    expect(compareResults(result(a), result(b))).toMatchObject({
      standardUncertaintyK: 40,
      partlyUnknown: false,
      sharedCauses: [{ term: 'camera', sharedBy: 'phone' }],
    })
  })

  it('moved opposite ways by one cause differ less surely', () => {
    const a = result(value(1200, 0, { window: 10 }))
    const b = result(value(1175, 0, { window: -10 }))
    expect(compareResults(a, b)).toMatchObject({
      standardUncertaintyK: 20,
      verdict: 'no difference shown',
    })
  })

  it('without a budget are taken as independent, and it is said', () => {
    const bare = { temperatureK: 1000, standardUncertaintyK: 6, budget: [] }
    const expected = { standardUncertaintyK: 10, partlyUnknown: true }
    expect(compareResults(result(bare), result(value(1000, 8)))).toMatchObject(expected)
    expect(compareResults(result(value(1000, 8)), result(bare))).toMatchObject(expected)
  })

  it('of which one is a bound differ only when the other lies wholly above it', () => {
    const bound: Result = { kind: 'upper bound', temperatureK: 900, methodVersion: '1' }
    expect(compareResults(bound, result(value(1000, 40))).verdict).toBe('differ')
    expect(compareResults(result(value(1000, 60)), bound).verdict).toBe('undecided')
    expect(compareResults(bound, bound).verdict).toBe('undecided')
  })

  it('give the same verdict in either order, and never a negative variance', () => {
    const terms = fc.dictionary(fc.constantFrom('a', 'b', 'c'), fc.integer({ min: -50, max: 50 }))
    const any = fc
      .tuple(fc.integer({ min: 900, max: 1500 }), fc.integer({ min: 0, max: 50 }), terms)
      .map(([t, own, shared]) => value(t, own, shared))
    fc.assert(
      fc.property(any, any, (a, b) => {
        const ab = compareResults(result(a), result(b))
        const ba = compareResults(result(b), result(a))
        expect(ba.verdict).toBe(ab.verdict)
        expect(ba.standardUncertaintyK).toBeCloseTo(ab.standardUncertaintyK!, 9)
        expect(Math.abs(ab.correlation!)).toBeLessThanOrEqual(1 + 1e-9)
      }),
    )
  })
})

describe('a series', () => {
  it('is in order of its axis and leaves out what has no place on it', () => {
    const base = { damaged: false, simulated: false, interval95K: [990, 1010] } as const
    const readings = [
      {
        ...base,
        id: 'a',
        kind: 'temperature',
        temperatureK: 1000,
        takenAtMs: 2,
        volts: 12,
        watts: null,
      },
      {
        ...base,
        id: 'b',
        kind: 'upper bound',
        temperatureK: 900,
        interval95K: null,
        takenAtMs: 1,
        volts: 6,
        watts: null,
      },
      { ...base, id: 'c', kind: 'none', temperatureK: null, takenAtMs: 3, volts: 8, watts: null },
    ] as unknown as Summary[]
    expect(seriesPoints(readings, 'volts')).toEqual([
      {
        id: 'b',
        x: 6,
        kind: 'upper bound',
        temperatureK: 900,
        lowerK: null,
        upperK: 900,
        simulated: false,
      },
      {
        id: 'a',
        x: 12,
        kind: 'temperature',
        temperatureK: 1000,
        lowerK: 990,
        upperK: 1010,
        simulated: false,
      },
    ])
    expect(seriesPoints(readings, 'time').map((p) => p.id)).toEqual(['b', 'a'])
    expect(seriesPoints(readings, 'watts')).toEqual([])
  })
})

it('two readings differ beyond twice the uncertainty of their difference (k = 2, JCGM 100:2008, 6.2.1)', () => {
  for (const sign of [1, -1]) {
    expect(verdictOf(sign * 19.8, 10)).toBe('no difference shown')
    expect(verdictOf(sign * 20.2, 10)).toBe('differ')
  }
})
