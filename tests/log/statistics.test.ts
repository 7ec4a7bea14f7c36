import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { statisticsOf } from '../../src/log/statistics/statistics.ts'
import { expectPrinted } from '../close-to.ts'
import { type Terms, value } from './budgeted.ts'

describe('the mean of a selection', () => {
  it('of equal independent readings shrinks with the root of their number', () => {
    const s = statisticsOf([value(1000, 10), value(1002, 10), value(998, 10), value(1000, 10)])!
    expect(s.weightedMeanK).toBeCloseTo(1000, 9)
    expect(s.standardUncertaintyK).toBeCloseTo(5, 6)
    expect(s.betweenK).toBe(0)
  })

  it('of one camera’s readings keeps the camera’s error', () => {
    const many = Array.from({ length: 100 }, (_, i) => value(1000 + (i % 2), 10, { camera: 60 }))
    const s = statisticsOf(many)!
    expect(s.commonK).toBeCloseTo(60, 9)
    expect(s.independentK).toBeCloseTo(1, 6)
    expect(s.causes).toEqual([{ term: 'common', sharedBy: 'camera', contributionK: s.commonK }])
  })

  it('gives a second camera its due weight against many readings of the first', () => {
    const a = Array.from({ length: 50 }, () => value(1000, 5, { a: 40 }))
    const s = statisticsOf([...a, value(1030, 5, { b: 40 }), value(1030, 5, { b: 40 })])!
    const ofB = s.weights[50]! + s.weights[51]!
    // Variance of a camera's mean: 40² + 5²/n; weights as their inverses.
    const va = 1600 + 25 / 50
    const vb = 1600 + 25 / 2
    expect(ofB).toBeCloseTo(1 / vb / (1 / va + 1 / vb), 3)
  })

  it('counts uncertainty without a budget as common, and says so', () => {
    const bare = { temperatureK: 1000, standardUncertaintyK: 10, budget: [] }
    const s = statisticsOf([bare, bare, bare])!
    expect(s.standardUncertaintyK).toBeCloseTo(10, 3)
    expect(s.partlyUnknown).toBe(true)
  })

  it('does not leave the readings (Peelle’s puzzle: 1.5 and 1.0, 10 % and 20 % in common)', () => {
    // Peelle 1987 as usually quoted: least squares as it stands gives 0.88, below both.
    const s = statisticsOf([value(1.5, 0.15, { scale: 0.3 }), value(1.0, 0.1, { scale: 0.2 })])!
    expect(s.weightedMeanK).toBeGreaterThan(1)
    expect(s.weightedMeanK).toBeLessThan(1.5)
  })

  it('agrees with a dense solution of generalised least squares', () => {
    // Equal contributions within a cause, where levelling changes nothing.
    const cause = fc.constantFrom({}, { a: 20 }, { b: 30 }, { a: 20, b: 30 })
    const one = fc.tuple(
      fc.integer({ min: 990, max: 1010 }),
      fc.integer({ min: 40, max: 60 }),
      cause,
    )
    fc.assert(
      fc.property(fc.array(one, { minLength: 2, maxLength: 8 }), (parts) => {
        const values = parts.map(([t, own, shared]) => value(t, own, shared))
        const s = statisticsOf(values)!
        if (s.betweenK > 0) return
        const dense = denseGls(parts.map(([t, own, shared]) => ({ t, own, shared })))
        fc.pre(dense.weights.every((w) => w >= 0))
        expect(s.weightedMeanK).toBeCloseTo(dense.mean, 6)
        expect(s.standardUncertaintyK).toBeCloseTo(dense.u, 6)
      }),
    )
  })

  it('widens when readings scatter more than they say, until chi² is as expected', () => {
    const s = statisticsOf([value(1000, 1), value(1020, 1), value(1010, 2), value(995, 1)])!
    const chi2 = [1000, 1020, 1010, 995].reduce((sum, t, i) => {
      const own = i === 2 ? 2 : 1
      return sum + (t - s.weightedMeanK) ** 2 / (own ** 2 + s.betweenK ** 2)
    }, 0)
    expect(chi2).toBeCloseTo(3, 6)
    expect(s.birgeRatio).toBeGreaterThan(5)
  })

  it('gives published values for 13 trials (log relative risk, random effects)', () => {
    // Colditz et al. 1994, the BCG vaccine trials: counts of treated and control, positive and
    // negative, from memory, as widely reprinted. The fixed-effect values -0.4303 and Q = 152.2330 stand in
    // the tests of the R package metafor (checked there against Stata); tau² = 0.3181 for the
    // Paule-Mandel estimator in its documentation, from memory.
    const trials = [
      [4, 119, 11, 128],
      [6, 300, 29, 274],
      [3, 228, 11, 209],
      [62, 13536, 248, 12619],
      [33, 5036, 47, 5761],
      [180, 1361, 372, 1079],
      [8, 2537, 10, 619],
      [505, 87886, 499, 87892],
      [29, 7470, 45, 7232],
      [17, 1699, 65, 1600],
      [186, 50448, 141, 27197],
      [5, 2493, 3, 2338],
      [27, 16886, 29, 17825],
    ] as const
    const scale = 1000
    const values = trials.map(([a, b, c, d]) =>
      value(
        scale * Math.log(a / (a + b) / (c / (c + d))),
        scale * Math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)),
      ),
    )
    const s = statisticsOf(values)!
    const weights = values.map((v) => v.standardUncertaintyK ** -2)
    const fixed =
      values.reduce((sum, v, i) => sum + weights[i]! * v.temperatureK, 0) /
      weights.reduce((a, b) => a + b)
    expectPrinted(fixed / scale, '-0.4303')
    expectPrinted(s.birgeRatio! ** 2 * 12, '152.2330')
    expectPrinted((s.betweenK / scale) ** 2, '0.3181')
  })

  it('does not depend on order, and moves with all readings', () => {
    const any = fc.array(
      fc.tuple(
        fc.integer({ min: 900, max: 1500 }),
        fc.integer({ min: 0, max: 50 }),
        fc.dictionary(fc.constantFrom('a', 'b', 'c'), fc.integer({ min: -50, max: 50 })),
      ),
      { minLength: 1, maxLength: 12 },
    )
    fc.assert(
      fc.property(any, (parts) => {
        const values = parts.map(([t, own, shared]) => value(t, own, shared))
        const s = statisticsOf(values)!
        const reversed = statisticsOf([...values].reverse())!
        const moved = statisticsOf(values.map((v) => ({ ...v, temperatureK: v.temperatureK + 7 })))!
        expect(reversed.weightedMeanK).toBeCloseTo(s.weightedMeanK, 4)
        expect(moved.weightedMeanK).toBeCloseTo(s.weightedMeanK + 7, 4)
        expect(s.weightedMeanK).toBeGreaterThanOrEqual(s.coldestK - 1e-6)
        expect(s.weightedMeanK).toBeLessThanOrEqual(s.hottestK + 1e-6)
        expect(Number.isFinite(s.standardUncertaintyK)).toBe(true)
      }),
    )
  })

  it('of nothing is nothing', () => {
    expect(statisticsOf([])).toBeNull()
  })
})

/** Generalised least squares by a dense matrix and Gauss's elimination. */
function denseGls(items: readonly { t: number; own: number; shared: Terms }[]) {
  const v = items.map((a, i) =>
    items.map((b, j) => {
      let sum = i === j ? a.own ** 2 : 0
      for (const cause of Object.keys(a.shared)) {
        sum += a.shared[cause]! * (b.shared[cause] ?? 0)
      }
      return sum
    }),
  )
  const rows = v.map((row) => [...row, 1])
  const n = rows.length
  for (let c = 0; c < n; c++) {
    const pivot = rows.reduce(
      (p, row, r) => (r >= c && Math.abs(row[c]!) > Math.abs(rows[p]![c]!) ? r : p),
      c,
    )
    ;[rows[c], rows[pivot]] = [rows[pivot]!, rows[c]!]
    for (let r = 0; r < n; r++) {
      if (r === c) continue
      const f = rows[r]![c]! / rows[c]![c]!
      for (let k = c; k <= n; k++) rows[r]![k]! -= f * rows[c]![k]!
    }
  }
  const raw = rows.map((row, r) => row[n]! / row[r]!)
  const sum = raw.reduce((a, b) => a + b)
  const weights = raw.map((w) => w / sum)
  return {
    weights,
    mean: weights.reduce((m, w, i) => m + w * items[i]!.t, 0),
    u: Math.sqrt(1 / sum),
  }
}

describe('a selection of one and of two', () => {
  it('has no scatter, and has one', () => {
    const one = statisticsOf([value(1000, 10)])!
    expect([one.standardDeviationK, one.birgeRatio, one.betweenK]).toEqual([null, null, 0])
    const two = statisticsOf([value(1000, 10), value(1040, 10)])!
    // 40 K apart: 40/√2; chi² of them is 40²/(10² + 10²) = 8.
    expect(two.standardDeviationK).toBeCloseTo(40 / Math.SQRT2, 9)
    expect(two.birgeRatio).toBeCloseTo(Math.sqrt(8), 6)
    // What makes chi² equal its one degree of freedom: 40² = 2 (10² + tau²).
    expect(two.betweenK).toBeCloseTo(Math.sqrt(700), 3)
  })

  it('shares what both have, and calls own what one has alone', () => {
    expect(statisticsOf([value(1000, 10, { a: 20 }), value(1000, 10, { b: 20 })])!.causes).toEqual(
      [],
    )
    const both = statisticsOf([value(1000, 10, { a: 20 }), value(1000, 10, { a: 20 })])!
    expect(both.causes.map(({ sharedBy }) => sharedBy)).toEqual(['a'])
    expect(both.commonK).toBeCloseTo(20, 6)
  })

  it('takes a hundredth of the variance for rounding, more for uncertainty without a budget', () => {
    const rounded = (share: number) => {
      const whole = { ...value(1000, 10), standardUncertaintyK: 10 / Math.sqrt(1 - share) }
      return statisticsOf([whole, whole])!.partlyUnknown
    }
    expect([rounded(0.0095), rounded(0.0105)]).toEqual([false, true])
  })
})
