import { describe, expect, test } from 'vitest'
import { type PlanckFit, SCALE } from '../../../src/estimate/spectrum/planck-fit.ts'
import {
  hiddenSlope,
  SAME_INSTRUMENT,
  SHAPE_LENGTH_NM,
  shapeBasis,
} from '../../../src/estimate/spectrum/shape-error.ts'
import { shapeSizes } from '../../../src/estimate/spectrum/shape-sizes.ts'
import { logDeterminant, solveCholesky, tryCholesky } from '../../../src/numerics/linear-algebra.ts'
import { normal, seededRandom } from '../../accuracy/spectrum-simulation.ts'

describe('the smooth departure from the model', () => {
  const nm = Array.from({ length: 31 }, (_, i) => 450 + 10 * i)
  const covariance = (lengthNm?: number) => {
    const { functions, deviation } = shapeBasis(nm, lengthNm)
    return (i: number, j: number) =>
      functions.reduce((sum, f, k) => sum + deviation[k]! ** 2 * f[i]! * f[j]!, 0)
  }
  /** Matern, smoothness 3/2: Rasmussen & Williams 2006, eq. 4.17. */
  const matern = (apartNm: number, lengthNm: number) => {
    const r = (Math.sqrt(3) * apartNm) / lengthNm
    return (1 + r) * Math.exp(-r)
  }

  test.each([SHAPE_LENGTH_NM, 60])('is a process whose values go together over %d nm', (length) => {
    const of = covariance(length)
    // The frequencies that are kept hold 99.7 %; walls a length beyond the data take some per cent.
    for (const i of [5, 10, 15, 20, 25])
      for (const j of [5, 12, 15, 25])
        expect(Math.abs(of(i, j) - matern(Math.abs(nm[i]! - nm[j]!), length))).toBeLessThan(0.05)
  })

  test('goes together over 120 nm where nothing else is said', () => {
    expect(covariance()(3, 17)).toBe(covariance(SHAPE_LENGTH_NM)(3, 17))
    expect(shapeBasis([500, 501], 0.5).functions.length).toBeLessThanOrEqual(32)
  })

  test('hides no slope while it is of the usual size, and five times what is beyond one and a half', () => {
    const hidden = (times: number) =>
      hiddenSlope({ smooth: times * SAME_INSTRUMENT.smooth, fine: 0 }, SAME_INSTRUMENT)
    expect(hidden(1.4)).toBe(0)
    // See METHODS: of a slope a fit sees a fifth, as curvature.
    expect(hidden(2.5)).toBeCloseTo(5 * SAME_INSTRUMENT.smooth, 12)
  })
})

describe('the sizes of the departures', () => {
  const nm = Float64Array.from({ length: 30 }, (_, i) => 450 + 8 * i)
  const basis = shapeBasis(nm)
  const NOISE = 1e-6
  const column = (of: (at: number) => number) => nm.map(of)
  const shapeless = [
    column(() => 1),
    column((at) => (at - 570) / 300),
    column((at) => 0.2 + (at - 450) / 1000),
    column((at) => (600 - at) / 100),
    column((at) => (at - 570) / 120),
  ]
  const priors = [
    { mean: 0, standardUncertainty: Number.POSITIVE_INFINITY },
    { mean: 0, standardUncertainty: Number.POSITIVE_INFINITY },
    { mean: 0.01, standardUncertainty: 0.02 },
    { mean: 0.5, standardUncertainty: 0.01 },
    { mean: 0, standardUncertainty: 0.01 },
  ]
  /** A fit that stands at these parameters, its departures from there given; bin `out` has no weight. */
  const fitOf = (residual: Float64Array, parameters: readonly number[], out = -1): PlanckFit =>
    ({
      columns: [...shapeless, ...basis.functions],
      residual,
      residualNoise: nm.map(() => NOISE),
      weight: nm.map((_, b) => (b === out ? 0 : 1)),
      priors: [...priors, ...basis.functions.map(() => ({ mean: 0, standardUncertainty: 1 }))],
      parameters: [...parameters, ...basis.functions.map(() => 0)],
    }) as unknown as PlanckFit

  /** The posterior by dense matrices, over a finer grid: ln N(data; 0, noise + fine² + columns' priors). */
  function bruteForce(data: Float64Array, prior = SAME_INSTRUMENT) {
    const even = (from: number, to: number, count: number) =>
      Array.from({ length: count }, (_, i) => from * (to / from) ** (i / (count - 1)))
    const parts: { log: number; smooth: number; fine: number }[] = []
    for (const smooth of even(0.002, 0.5, 16))
      for (const fine of even(0.0005, 0.2, 12)) {
        const rows = Array.from(nm, (_, a) =>
          Array.from(nm, (_, b) => {
            let sum = a === b ? NOISE + fine ** 2 : 0
            for (const [j, c] of shapeless.entries())
              sum += Math.min(priors[j]!.standardUncertainty, 10) ** 2 * c[a]! * c[b]!
            for (const [k, f] of basis.functions.entries())
              sum += (basis.deviation[k]! * smooth) ** 2 * f[a]! * f[b]!
            return sum
          }),
        )
        const l = tryCholesky(rows)!
        const solved = solveCholesky(l, data)
        const square = data.reduce((sum, value, i) => sum + value * solved[i]!, 0)
        const apart = (value: number, median: number) => (Math.log(value / median) / Math.LN2) ** 2
        const log =
          -0.5 *
          (square + logDeterminant(l) + apart(smooth, prior.smooth) + apart(fine, prior.fine))
        parts.push({ log, smooth, fine })
      }
    const best = Math.max(...parts.map(({ log }) => log))
    const mean = (of: (part: (typeof parts)[0]) => number) =>
      parts.reduce((sum, part) => sum + Math.exp(part.log - best) * of(part), 0)
    const root = (of: 'smooth' | 'fine') => Math.sqrt(mean((part) => part[of] ** 2) / mean(() => 1))
    return { smooth: Math.max(prior.smooth, root('smooth')), fine: root('fine') }
  }

  /** Departures of these sizes. */
  function drawn(smooth: number, fine: number, seed: number) {
    const random = seededRandom(seed)
    const each = Array.from(basis.deviation, (u) => u * smooth * normal(random))
    return nm.map(
      (_, b) =>
        basis.functions.reduce((sum, f, k) => sum + each[k]! * f[b]!, 0) +
        Math.hypot(fine, Math.sqrt(NOISE)) * normal(random),
    )
  }

  test.each([
    [0.02, 0.002, 3],
    [0.1, 0.002, 4],
    [0.05, 0.03, 5],
    [0.3, 0.01, 6],
  ])('of %d and %d are those that make the glow most likely', (smooth, fine, seed) => {
    const data = drawn(smooth, fine, seed)
    const found = shapeSizes(fitOf(data, [0, 0, 0.01, 0.5, 0]), basis, SAME_INSTRUMENT)
    const expected = bruteForce(data)
    // Half of a step of the coarse grid of sizes, whose steps are a third to a factor of 2.5.
    expect(Math.abs(Math.log(found.smooth / expected.smooth))).toBeLessThan(0.25)
    expect(Math.abs(Math.log(found.fine / expected.fine))).toBeLessThan(0.25)
  })

  test('are those of all that departs, wherever the fit has put it', () => {
    const data = drawn(0.1, 0.002, 4)
    // What the parameters have taken up of it is given back.
    const moved = [0.7, -0.3, 0.03, 0.52, 0.02]
    const left = data.map((value, b) =>
      moved.reduce((sum, p, j) => sum - (p - priors[j]!.mean) * shapeless[j]![b]!, value),
    )
    const plain = shapeSizes(fitOf(data, [0, 0, 0.01, 0.5, 0]), basis, SAME_INSTRUMENT)
    const found = shapeSizes(fitOf(left, moved), basis, SAME_INSTRUMENT)
    expect(found.smooth).toBeCloseTo(plain.smooth, 6)
    expect(found.fine).toBeCloseTo(plain.fine, 6)
    expect(SCALE).toBe(0)
  })

  test('do not hear of a bin without weight', () => {
    const data = drawn(0.03, 0.002, 4)
    const wrong = data.map((value, b) => (b === 15 ? 1000 : value))
    const parameters = [0, 0, 0.01, 0.5, 0]
    const [one, other] = [data, wrong].map((of) =>
      shapeSizes(fitOf(of, parameters, 15), basis, SAME_INSTRUMENT),
    )
    expect(other).toEqual(one)
  })

  test('are never less than the usual smooth one: what looks like another temperature leaves nothing', () => {
    const nothing = nm.map(() => 0)
    const found = shapeSizes(fitOf(nothing, [0, 0, 0.01, 0.5, 0]), basis, SAME_INSTRUMENT)
    expect(found.smooth).toBe(SAME_INSTRUMENT.smooth)
    expect(found.fine).toBeLessThan(SAME_INSTRUMENT.fine)
  })
})
