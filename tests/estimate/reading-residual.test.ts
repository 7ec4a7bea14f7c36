import { describe, expect, test } from 'vitest'
import { condition } from '../../src/estimate/conditioning.ts'
import type { ReadingEquation } from '../../src/estimate/glow-equations.ts'
import {
  type BlueResidual,
  blueLikelihood,
  boundLikelihood,
  colourLikelihood,
  type ReadingResidual,
  residualOf,
  tailLikelihood,
  widenedByForeign,
} from '../../src/estimate/reading-residual.ts'
import { normalCdf, normalDensity } from '../../src/numerics/heavy-tails.ts'
import { expectClose } from '../close-to.ts'

/** Two numbers of a camera; a known heat has told something of the first. */
const PRIOR = [1, 0.5]
const SEEN = { residual: 0.3, loading: [1, 0.2], variance: 0.25 }
const conditioned = condition(PRIOR, [SEEN])
const LOADING = [0.05, 0.02]
const BLUE = [0.01, 0.03]
const equation = {
  residual: 0.04,
  loading: LOADING,
  variance: 1e-4,
  blue: {
    kind: 'value',
    residual: 0.02,
    camera: BLUE,
    slope: 0,
    variance: 4e-4,
    perLight: 2,
    greenPerBlue: 0.5,
  },
} as unknown as ReadingEquation
const residual = residualOf(equation, { conditioned } as never)

/** Mean and covariance of the two numbers after the known heat, by hand (Rasmussen & Williams, eq. A.6). */
const [h, k] = SEEN.loading as [number, number]
const [p, q] = PRIOR as [number, number]
const total = h * h * p + k * k * q + SEEN.variance
const gain = [(p * h) / total, (q * k) / total] as const
const mean = gain.map((one) => one * SEEN.residual)
const covariance = [
  [p - gain[0] * h * p, -gain[0] * k * q],
  [-gain[1] * h * p, q - gain[1] * k * q],
]
const between = (a: readonly number[], b: readonly number[]) =>
  a.reduce((sum, x, i) => sum + b.reduce((row, y, j) => row + x * y * covariance[i]![j]!, 0), 0)
const expected = (of: readonly number[]) => of.reduce((sum, x, i) => sum + x * mean[i]!, 0)

describe('how a colour departs from what a camera is expected to see', () => {
  const green = 0.04 - expected(LOADING)
  const variance = between(LOADING, LOADING) + 1e-4
  const alone = 0.02 - expected(BLUE)
  const common = between(LOADING, BLUE)

  test('in green: by its own errors and what is open of the camera', () => {
    expectClose(residual.green, green, 1e-9)
    expectClose(residual.greenSd, Math.sqrt(variance), 1e-9)
  })

  test('in blue: beyond what green says of it', () => {
    const { value, sd, bound } = residual.blue!
    expectClose(value, alone - (common / variance) * green, 1e-9)
    expectClose(sd, Math.sqrt(between(BLUE, BLUE) - common ** 2 / variance + 4e-4), 1e-9)
    expect(bound).toBe(false)
    const most = { ...equation, blue: { ...equation.blue!, kind: 'at most' } } as ReadingEquation
    expect(residualOf(most, { conditioned } as never).blue!.bound).toBe(true)
  })

  test('where there may be foreign light, 0.05 of red in blue: whatever green is, up to 0.1', () => {
    const blue = residual.blue!
    expectClose(blue.alone, alone, 1e-9)
    expectClose(blue.foreignSd, Math.sqrt(between(BLUE, BLUE) + 4e-4 + (0.05 * 2) ** 2), 1e-9)
    expect(blue.greenPerBlue).toBe(0.5)
    expect(blue.mostGreen).toBeCloseTo(0.1 * 2 * 0.5, 12)
  })

  test('in green alone where there is no blue', () => {
    const none = residualOf({ ...equation, blue: null }, { conditioned } as never)
    expect(none).toEqual({ green: residual.green, greenSd: residual.greenSd, blue: null })
  })
})

describe('how likely a colour is', () => {
  const blue: BlueResidual = {
    value: 0.03,
    sd: 0.02,
    alone: 0.04,
    foreignSd: 0.06,
    greenPerBlue: 0.5,
    mostGreen: 0.1,
    bound: false,
  }
  const at = (change: Partial<BlueResidual> = {}): ReadingResidual => ({
    green: -0.01,
    greenSd: 0.015,
    blue: { ...blue, ...change },
  })
  // One photo in fifty has foreign light (common practice).
  const mixed = (own: number, foreign: number) => 0.98 * own + 0.02 * foreign

  test('foreign light widens green by as much as it gave, up to its most', () => {
    expectClose(widenedByForeign(0.03, 0.04, 0.1), 0.05, 1e-12)
    expectClose(widenedByForeign(0.03, -0.04, 0.1), 0.05, 1e-12)
    expectClose(widenedByForeign(0.03, 5, 0.04), 0.05, 1e-12)
  })

  test('green and blue together are the product of both, without and with foreign light', () => {
    const found = colourLikelihood(-0.01, 0.015, 0.03, 0.02, 0.04, 0.06, 0.025)
    expectClose(
      found,
      mixed(
        normalDensity(-0.01, 0.015) * normalDensity(0.03, 0.02),
        normalDensity(-0.01, 0.025) * normalDensity(0.04, 0.06),
      ),
      1e-9,
    )
  })

  test('blue alone by its value, or as a bound by what lies below', () => {
    expectClose(
      blueLikelihood(blue),
      mixed(normalDensity(0.03, 0.02), normalDensity(0.04, 0.06)),
      1e-9,
    )
    const bound = mixed(normalCdf(0.03 / 0.02), normalCdf(0.03 / 0.06))
    expectClose(boundLikelihood(0.03, 0.02, 0.06), bound, 1e-9)
    expectClose(blueLikelihood({ ...blue, bound: true }), bound, 1e-9)
  })

  test.each([1, -1] as const)(
    'a green beyond what was measured, side %d, has the tail of it',
    (side) => {
      const tail = (sd: number) => normalCdf((side * -0.01) / sd)
      expectClose(tailLikelihood({ ...at(), blue: null }, side), tail(0.015), 1e-9)
      const bound = mixed(normalCdf(0.03 / 0.02), normalCdf(0.03 / 0.06))
      expectClose(tailLikelihood(at({ bound: true }), side), bound * tail(0.015), 1e-9)
      expectClose(
        tailLikelihood(at(), side),
        mixed(
          normalDensity(0.03, 0.02) * tail(0.015),
          normalDensity(0.04, 0.06) * tail(Math.hypot(0.015, 0.5 * 0.04)),
        ),
        1e-9,
      )
      expectClose(
        tailLikelihood(at({ mostGreen: 0.01 }), side),
        mixed(
          normalDensity(0.03, 0.02) * tail(0.015),
          normalDensity(0.04, 0.06) * tail(Math.hypot(0.015, 0.01)),
        ),
        1e-9,
      )
    },
  )
})
