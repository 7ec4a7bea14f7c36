import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  CORRELATION_SLACK,
  type Consensus,
  consensus,
  type EstimateKind,
  estimateCovariance,
  type SingleEstimate,
} from '../../src/estimate/consensus.ts'
import { cholesky } from '../../src/numerics/linear-algebra.ts'
import { seeded } from '../accuracy/random.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

const estimate = (
  id: string,
  temperatureK: number,
  terms: Record<string, number>,
  kind: EstimateKind = 'supply',
): SingleEstimate => ({
  id,
  kind,
  temperatureK,
  terms: Object.entries(terms).map(([term, effectK]) => ({ id: term, effectK })),
})
function found(estimates: readonly SingleEstimate[]): Consensus {
  const result = consensus(estimates)
  if (!result.ok) throw new Error(`refused: ${result.code}`)
  return result
}

const effect = fc.double({ min: -60, max: 60, noNaN: true })
const sets = fc
  .array(
    fc.record({
      temperatureK: fc.double({ min: 900, max: 1500, noNaN: true }),
      own: fc.double({ min: 3, max: 80, noNaN: true }),
      camera: effect,
      surface: effect,
    }),
    { minLength: 2, maxLength: 12 },
  )
  .map((list) =>
    list.map(({ temperatureK, own, camera, surface }, i) =>
      estimate(`o${i}`, temperatureK, { [`own ${i}`]: own, camera, surface }),
    ),
  )

describe('the consensus value', () => {
  it('is none where two would lie so far apart by chance less often than one time in twenty', () => {
    // 1.96 standard deviations of a normal (two-sided, tables), of a difference whose errors may be
    // opposed by the slack of 0.2; 1.93 are 5.4 %, 1.99 are 4.7 %.
    const verdict = (times: number) =>
      found([
        estimate('a', 1100, { a: 10 }),
        estimate('b', 1100 + times * Math.sqrt(100 + 100 + 2 * 0.2 * 100), { b: 10 }),
      ]).verdict
    expect([1.93, 1.99].map(verdict)).toEqual(['agree within what is known', 'exclude each other'])
  })

  it('names what is shared from a correlation of one in twenty on', () => {
    const shared = (correlation: number) =>
      found([
        estimate('a', 1100, { a: Math.sqrt(1 - correlation), common: Math.sqrt(correlation) }),
        estimate('b', 1100, { b: Math.sqrt(1 - correlation), common: Math.sqrt(correlation) }),
      ]).shared
    expect(shared(0.048)).toBeNull()
    expect(shared(0.052)?.ids).toEqual(['a', 'b'])
  })

  it('of two estimates is the weighted mean for errors that may be common by the slack', () => {
    // JCGM 100:2008, 5.2.2 for u² with r = 0.2 between 10 and 20 K: the least variance has
    // w = (400 - 0.2 x 200) / (100 + 400 - 2 x 0.2 x 200) = 360 / 420.
    const { value, verdict, shared } = found([
      estimate('a', 1100, { a: 10 }),
      estimate('b', 1130, { b: 20 }),
    ])
    const w = 360 / 420
    expectClose(value!.temperatureK, 1100 * w + 1130 * (1 - w), 1e-9)
    const variance = 100 * w * w + 400 * (1 - w) ** 2 + 2 * 0.2 * 200 * w * (1 - w)
    expectClose(value!.standardUncertaintyK, Math.sqrt(variance), 1e-9)
    expect(verdict).toBe('agree within what is known')
    expect(shared).toBeNull()
  })

  it('lies within the span of its inputs, whatever they share; no weight is below 0', () => {
    fc.assert(
      fc.property(sets, (list) => {
        const { value, estimates } = found(list)
        if (!value) return
        const kelvin = list.map(({ temperatureK }) => temperatureK)
        expect(value.temperatureK).toBeGreaterThanOrEqual(Math.min(...kelvin))
        expect(value.temperatureK).toBeLessThanOrEqual(Math.max(...kelvin))
        expectClose(
          estimates.reduce((sum, { weight }) => sum + weight!, 0),
          1,
          1e-9,
        )
        for (const { weight } of estimates) expect(weight).toBeGreaterThanOrEqual(0)
        const least = Math.min(...estimates.map(({ standardUncertaintyK: u }) => u))
        expect(value.standardUncertaintyK).toBeLessThanOrEqual(least * (1 + 1e-9))
      }),
      { numRuns: 1000 },
    )
  })

  it('has the least worst-case variance: no other weights of at least 0 do better', () => {
    fc.assert(
      fc.property(
        sets,
        fc.array(fc.double({ min: 0.001, max: 1, noNaN: true }), { minLength: 12, maxLength: 12 }),
        (list, raw) => {
          const near = list.map((one) => ({ ...one, temperatureK: 1100 }))
          const { value } = found(near)
          const covariance = estimateCovariance(near)
          const u = covariance.map((row, i) => Math.sqrt(row[i]!))
          const sum = near.reduce((s, _, i) => s + raw[i]!, 0)
          let variance = 0
          for (const [i, row] of covariance.entries())
            for (const [j, v] of row.entries()) {
              const r = i === j ? 1 : Math.min(v / (u[i]! * u[j]!) + CORRELATION_SLACK, 1)
              variance += (raw[i]! / sum) * (raw[j]! / sum) * u[i]! * u[j]! * r
            }
          expect(value!.standardUncertaintyK).toBeLessThanOrEqual(Math.sqrt(variance) * (1 + 1e-6))
        },
      ),
    )
  })

  it('covers the truth in at least 93 % of sets whose correlations are misstated by up to 0.2', () => {
    const random = seeded(20)
    for (const worst of [false, true]) {
      let inside = 0
      let counted = 0
      while (counted < 2500) {
        const n = 2 + Math.floor(random.uniform() * 11)
        const shared = () => (random.uniform() < 0.5 ? 0 : 60 * random.normal())
        const stated = Array.from({ length: n }, (_, i) =>
          estimate(`o${i}`, 0, {
            [`own ${i}`]: 3 + 60 * random.uniform(),
            camera: shared(),
            surface: shared(),
            reference: shared(),
          }),
        )
        const errors = drawn(stated, worst, random)
        const result = found(stated.map((s, i) => ({ ...s, temperatureK: 1200 + errors[i]! })))
        if (!result.value) continue
        counted++
        const { temperatureK, standardUncertaintyK } = result.value
        if (Math.abs(temperatureK - 1200) <= 2 * standardUncertaintyK) inside++
      }
      expect(inside / counted).toBeGreaterThan(0.93)
    }
  })

  it('does not depend on the order, and moves with all alike', () => {
    fc.assert(
      fc.property(sets, fc.double({ min: -200, max: 200, noNaN: true }), (list, shift) => {
        const result = found(list)
        const turned = found([...list].reverse())
        const moved = found(list.map((o) => ({ ...o, temperatureK: o.temperatureK + shift })))
        expect(turned.verdict).toBe(result.verdict)
        expect(turned.oddOneOut?.id).toBe(result.oddOneOut?.id)
        if (!result.value || !turned.value || !moved.value) return
        expectClose(turned.value.standardUncertaintyK, result.value.standardUncertaintyK, 1e-6)
        expectClose(moved.value.standardUncertaintyK, result.value.standardUncertaintyK, 1e-6)
      }),
    )
  })
})

/**
 * Errors of a set whose true correlations lie up to 0.2 from the stated ones: the stated matrix mixed
 * with another correlation matrix, which keeps it one.
 */
function drawn(
  stated: readonly SingleEstimate[],
  worst: boolean,
  random: ReturnType<typeof seeded>,
): number[] {
  const covariance = estimateCovariance(stated)
  const n = stated.length
  const u = covariance.map((row, i) => Math.sqrt(row[i]!))
  const load = stated.map(() => (worst ? 1 : 2 * random.uniform() - 1))
  const other = load.map((a, i) => load.map((b, j) => (i === j ? 1 : a * b)))
  const correlation = covariance.map((row, i) => row.map((v, j) => v / (u[i]! * u[j]!)))
  let apart = 0
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      apart = Math.max(apart, Math.abs(other[i]![j]! - correlation[i]![j]!))
  const share = apart > 0 ? Math.min(1, 0.2 / apart) : 0
  const truth = covariance.map((_, i) =>
    covariance.map(
      (_, j) =>
        u[i]! * u[j]! * ((1 - share) * correlation[i]![j]! + share * other[i]![j]!) +
        (i === j ? 1e-9 : 0),
    ),
  )
  const factor = cholesky(truth)
  const normals = stated.map(() => random.normal())
  return factor.map((row) => row.reduce((sum, l, k) => sum + l * (normals[k] ?? 0), 0))
}

describe('the verdict', () => {
  it('of an element at 573 +- 66 and a photo at 870 +- 250 °C: they exclude each other', () => {
    const result = found([
      estimate('element', 846, { a: 33 }, 'supply'),
      estimate('photo', 1143, { b: 125 }, 'camera colour'),
    ])
    expect(result.verdict).toBe('exclude each other')
    expect(result.value).toBeNull()
    expect(result.contradictions[0]!.ids).toEqual(['photo', 'element'])
    expectPrinted(result.contradictions[0]!.differenceK, '297')
    // Which of two is wrong cannot be told.
    expect(result.oddOneOut).toBeNull()
  })

  it('of one estimate is that there is nothing to compare, and its figure stands', () => {
    const result = found([estimate('a', 1100, { camera: 50, a: 5 })])
    expect(result.verdict).toBe('single')
    expectClose(result.value!.temperatureK, 1100, 1e-12)
    expectClose(result.value!.standardUncertaintyK, Math.hypot(50, 5), 1e-12)
  })

  it('names the odd one of four ways on a made-up heating coil, wrong on purpose', () => {
    const four = [
      estimate('colour', 1180, { 'camera locus': 40, surface: 12, noise: 4 }, 'camera colour'),
      estimate('brightness', 1165, { emissivity: 8, 'salt point': 6, level: 5 }, 'brightness'),
      estimate('supply', 1310, { diameter: 9, emissivity: -15, convection: 12 }, 'supply'),
      estimate('eye', 1150, { eye: 50 }, 'by eye'),
    ]
    const result = found(four)
    expect(result.verdict).toBe('exclude each other')
    expect(result.value).toBeNull()
    expect(result.oddOneOut).toMatchObject({ id: 'supply', side: 'hot', rivals: [] })
    expect(Math.abs(result.oddOneOut!.rest.temperatureK - 1166)).toBeLessThan(6)
    const righted = found(four.map((o) => (o.id === 'supply' ? { ...o, temperatureK: 1172 } : o)))
    expect(righted.verdict).toBe('agree')
    // Emissivity moves brightness and supply opposite ways.
    expect(righted.shared).toMatchObject({ ids: ['brightness', 'supply'] })
    expect(righted.shared!.correlation).toBeLessThan(0)
  })

  it('names no odd one where several could be, or none explains all', () => {
    const three = found([
      estimate('a', 1000, { a: 5 }),
      estimate('b', 1020, { b: 20 }),
      estimate('c', 1040, { c: 5 }),
    ])
    expect(three.oddOneOut?.rivals.length).toBe(1)
    const scattered = found([
      estimate('a', 1000, { a: 5 }),
      estimate('b', 1100, { b: 5 }),
      estimate('c', 1200, { c: 5 }),
      estimate('d', 1300, { d: 5 }),
    ])
    expect(scattered.verdict).toBe('exclude each other')
    expect(scattered.oddOneOut).toBeNull()
  })

  it('refuses nothing, and what states no uncertainty', () => {
    const code = (list: readonly SingleEstimate[]) => {
      const result = consensus(list)
      return result.ok ? 'ok' : result.code
    }
    expect(code([])).toBe('none')
    expect(code([estimate('a', Number.NaN, { a: 5 })])).toBe('not finite')
    expect(code([estimate('a', 1000, {})])).toBe('not finite')
    // The same reading twice counts once.
    const twice = found([estimate('a', 1000, { x: 5 }), estimate('b', 1000, { x: 5 })])
    expectClose(twice.value!.standardUncertaintyK, 5, 1e-9)
  })
})
