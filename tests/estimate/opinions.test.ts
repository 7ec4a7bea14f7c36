import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  type CombinedOpinions,
  combineOpinions,
  type Opinion,
  type OpinionKind,
  opinionCovariance,
} from '../../src/estimate/opinions.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

const opinion = (
  id: string,
  temperatureK: number,
  terms: Record<string, number>,
  kind: OpinionKind = 'supply',
): Opinion => ({
  id,
  kind,
  temperatureK,
  terms: Object.entries(terms).map(([term, effectK]) => ({ id: term, effectK })),
})
function combined(opinions: readonly Opinion[]): CombinedOpinions {
  const result = combineOpinions(opinions)
  if (!result.ok) throw new Error(`refused: ${result.code}`)
  return result
}

/** Gauss-Jordan inverse: shares nothing with the Cholesky factor under test. */
function denseInverse(matrix: readonly (readonly number[])[]): number[][] {
  const n = matrix.length
  const m = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))])
  for (let c = 0; c < n; c++) {
    let pivot = c
    for (let r = c; r < n; r++) if (Math.abs(m[r]![c]!) > Math.abs(m[pivot]![c]!)) pivot = r
    const swap = m[c]!
    m[c] = m[pivot]!
    m[pivot] = swap
    const lead = m[c]![c]!
    m[c] = m[c]!.map((x) => x / lead)
    for (let r = 0; r < n; r++) {
      const factor = m[r]![c]!
      if (r !== c) m[r] = m[r]!.map((x, k) => x - factor * m[c]![k]!)
    }
  }
  return m.map((row) => row.slice(n))
}

const effect = fc.double({ min: -60, max: 60, noNaN: true })
const opinions = fc
  .array(
    fc.record({
      temperatureK: fc.double({ min: 900, max: 1500, noNaN: true }),
      own: fc.double({ min: 3, max: 80, noNaN: true }),
      camera: effect,
      surface: effect,
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((list) =>
    list.map(({ temperatureK, own, camera, surface }, i) =>
      opinion(`o${i}`, temperatureK, { [`own ${i}`]: own, camera, surface }),
    ),
  )

describe('opinions on one axis', () => {
  it('combine as a dense solve does: (1 V^-1 1)^-1 1 V^-1 x, chi-squared r V^-1 r', () => {
    fc.assert(
      fc.property(opinions, (list) => {
        const result = combined(list)
        const inverse = denseInverse(opinionCovariance(list))
        const x = list.map((o) => o.temperatureK)
        const rows = inverse.map((row) => row.reduce((a, b) => a + b, 0))
        const information = rows.reduce((a, b) => a + b, 0)
        const value = rows.reduce((sum, r, i) => sum + r * x[i]!, 0) / information
        expectClose(result.temperatureK, value, 1e-9)
        expectClose(result.internalUncertaintyK, 1 / Math.sqrt(information), 1e-9)
        let chi = 0
        for (const [i, row] of inverse.entries())
          for (const [j, v] of row.entries()) chi += (x[i]! - value) * v * (x[j]! - value)
        expect(Math.abs(result.chiSquared - chi)).toBeLessThan(1e-8 * (1 + chi))
        expectClose(
          result.opinions.reduce((sum, o) => sum + o.weight, 0),
          1,
          1e-9,
        )
      }),
    )
  })

  it('without shared terms is the weighted mean: 1100 +- 10 and 1130 +- 20 give 1106 +- 8.94 (GUM)', () => {
    const result = combined([opinion('a', 1100, { a: 10 }), opinion('b', 1130, { b: 20 })])
    expectPrinted(result.temperatureK, '1106')
    expectPrinted(result.internalUncertaintyK, '8.94')
    expect(result.shared).toEqual([])
  })

  it('has the Birge ratio sqrt(chi2 / (n - 1)) and widens by it (Birge 1932)', () => {
    const result = combined([opinion('a', 1100, { a: 10 }), opinion('b', 1150, { b: 10 })])
    // chi2 = 2 (25/10)^2 = 12.5
    expectClose(result.chiSquared, 12.5, 1e-12)
    expectClose(result.birgeRatio, Math.sqrt(12.5), 1e-12)
    expectClose(result.standardUncertaintyK, (10 / Math.SQRT2) * Math.sqrt(12.5), 1e-12)
    expect(result.verdict).toBe('disagree')
    const calm = combined([opinion('a', 1100, { a: 10 }), opinion('b', 1105, { b: 10 })])
    expect(calm.birgeRatio).toBeLessThan(1)
    expectClose(calm.standardUncertaintyK, 10 / Math.SQRT2, 1e-12)
  })

  it('does not count a shared error twice', () => {
    const alone = combined([opinion('a', 1100, { camera: 50, a: 5 })])
    const twins = combined([
      opinion('a', 1100, { camera: 50, a: 5 }),
      opinion('b', 1101, { camera: 50, b: 5 }),
    ])
    expect(alone.verdict).toBe('single')
    expect(twins.internalUncertaintyK).toBeGreaterThan(50)
    expect(twins.shared).toEqual([
      { ids: ['a', 'b'], termIds: ['camera'], correlation: expect.closeTo(2500 / 2525, 12) },
    ])
  })

  it('notices that twins with one camera may not differ by what the camera errs', () => {
    // 40 K apart with +-50 K shared and +-5 K own: far too much.
    const result = combined([
      opinion('a', 1100, { camera: 50, a: 5 }),
      opinion('b', 1140, { camera: 50, b: 5 }),
    ])
    expect(result.verdict).toBe('disagree')
    expectClose(result.chiSquared, 40 ** 2 / 50, 1e-9)
  })

  it('names the odd one of four opinions on a made-up heating coil, wrong on purpose', () => {
    const four = [
      opinion('colour', 1180, { 'camera locus': 40, surface: 12, noise: 4 }, 'camera-colour'),
      opinion('brightness', 1165, { emissivity: 8, 'salt point': 6, level: 5 }, 'brightness'),
      opinion('supply', 1310, { diameter: 9, emissivity: -15, convection: 12 }, 'supply'),
      opinion('eye', 1150, { eye: 50 }, 'by-eye'),
    ]
    const result = combined(four)
    expect(result.verdict).toBe('odd-one-out')
    expect(result.oddOneOut!.id).toBe('supply')
    expect(result.oddOneOut!.rivals).not.toContain('supply')
    expect(Math.abs(result.oddOneOut!.temperatureK - 1166)).toBeLessThan(6)
    const supply = result.opinions.find((o) => o.id === 'supply')!
    expect(supply.standardisedDifference).toBeGreaterThan(3)
    // Emissivity moves brightness and supply opposite ways: shared, anticorrelated.
    expect(result.shared.map((s) => s.ids)).toEqual([['brightness', 'supply']])
    expect(result.shared[0]!.correlation).toBeLessThan(0)
    const righted = combined(
      four.map((o) => (o.id === 'supply' ? { ...o, temperatureK: 1172 } : o)),
    )
    expect(righted.verdict).toBe('agree')
  })

  it('cannot say which of two is odd, and says so when more than one could be', () => {
    const two = combined([opinion('a', 1000, { a: 5 }), opinion('b', 1100, { b: 5 })])
    expect(two.verdict).toBe('disagree')
    expect(two.oddOneOut).toBeUndefined()
    const three = combined([
      opinion('a', 1000, { a: 5 }),
      opinion('b', 1020, { b: 20 }),
      opinion('c', 1040, { c: 5 }),
    ])
    expect(three.verdict).toBe('odd-one-out')
    expect(three.oddOneOut!.rivals.length).toBe(1)
  })

  it('does not depend on the order, and moves with all alike', () => {
    fc.assert(
      fc.property(opinions, fc.double({ min: -200, max: 200, noNaN: true }), (list, shift) => {
        const result = combined(list)
        const turned = combined([...list].reverse())
        expectClose(turned.temperatureK, result.temperatureK, 1e-9)
        expectClose(turned.standardUncertaintyK, result.standardUncertaintyK, 1e-7)
        expect(turned.oddOneOut?.id).toBe(result.oddOneOut?.id)
        const moved = combined(list.map((o) => ({ ...o, temperatureK: o.temperatureK + shift })))
        expect(Math.abs(moved.temperatureK - result.temperatureK - shift)).toBeLessThan(1e-6)
        for (const o of result.opinions) expect(Number.isFinite(o.weight)).toBe(true)
      }),
    )
  })

  it('refuses nothing, nonsense, and the same opinion twice', () => {
    const code = (list: readonly Opinion[]) => {
      const result = combineOpinions(list)
      return result.ok ? 'ok' : result.code
    }
    expect(code([])).toBe('none')
    expect(code([opinion('a', Number.NaN, { a: 5 })])).toBe('not-finite')
    expect(code([opinion('a', 1000, {})])).toBe('not-independent')
    expect(code([opinion('a', 1000, { x: 5 }), opinion('b', 1010, { x: 5 })])).toBe(
      'not-independent',
    )
  })
})
