import { describe, expect, test } from 'vitest'
import { Between, LikelihoodBetween } from '../../src/estimate/likelihood-between.ts'
import {
  blueLikelihood,
  colourLikelihood,
  type ReadingResidual,
  widenedByForeign,
} from '../../src/estimate/reading-residual.ts'
import { normalDensity } from '../../src/numerics/heavy-tails.ts'
import { expectClose } from '../close-to.ts'

const NODES = 7
const STEPS = 5
const FAR = 6

const cubic = (x: number) => 2 - 0.7 * x + 0.3 * x * x - 0.05 * x ** 3

describe('values between nodes', () => {
  const place = new Between(NODES, STEPS)

  test('are those of any cubic, at the first and last point and everywhere between', () => {
    // The cubic through four points of a cubic is that cubic (Abramowitz & Stegun, 25.2.13).
    const nodes = Array.from({ length: NODES }, (_, i) => cubic(i))
    expect(place.points).toBe((NODES - 1) * STEPS + 1)
    for (let i = 0; i < place.points; i++)
      expect(place.value(nodes, i)).toBeCloseTo(cubic(i / STEPS), 12)
  })

  test('lean on the four nodes around the point only', () => {
    const bump = [0, 0, 0, 0, 0, 0, 1]
    for (let i = 0; i <= 4 * STEPS - 1; i++) expect(place.value(bump, i)).toBe(0)
    expect(place.value(bump, 4 * STEPS + 1)).not.toBe(0)
  })
})

const GREEN_ONLY = (x: number): ReadingResidual => ({
  green: 3 * (x - 3),
  greenSd: 0.4 + 0.05 * x,
  blue: null,
})
const withBlue =
  (bound: boolean) =>
  (x: number): ReadingResidual => ({
    ...GREEN_ONLY(x),
    blue: {
      value: 0.5 * (x - 2.5),
      sd: 0.3 + 0.02 * x,
      alone: 0.9 * (x - 2.5),
      foreignSd: 1 + 0.1 * x,
      greenPerBlue: 0.8,
      mostGreen: 1.5,
      bound,
    },
  })

/** What a place says at each point, 0 where it says nothing. */
function told(residual: (x: number) => ReadingResidual): number[] {
  const place = new Between(NODES, STEPS)
  const likelihood = new LikelihoodBetween(place, FAR)
  likelihood.fill(Array.from({ length: NODES }, (_, i) => residual(i)))
  const found = new Array<number>(place.points).fill(0)
  likelihood.each((i, value) => {
    found[i] = value
  })
  return found
}

describe('the likelihood between nodes', () => {
  test('is that of green alone where blue says nothing', () => {
    for (const [i, found] of told(GREEN_ONLY).entries()) {
      const { green, greenSd } = GREEN_ONLY(i / STEPS)
      if (Math.abs(green) > FAR * greenSd) expect(found).toBe(0)
      else expectClose(found, normalDensity(green, greenSd), 1e-9, `point ${i}`)
    }
  })

  test('is green times blue where blue is a bound', () => {
    const of = withBlue(true)
    for (const [i, found] of told(of).entries()) {
      const { green, greenSd, blue } = of(i / STEPS)
      if (Math.abs(green) > FAR * greenSd) expect(found).toBe(0)
      else
        expectClose(
          found,
          normalDensity(green, greenSd) * blueLikelihood(blue!),
          1e-9,
          `point ${i}`,
        )
    }
  })

  test('lets foreign light in blue widen green', () => {
    const of = withBlue(false)
    const found = told(of)
    for (const [i, value] of found.entries()) {
      const { green, greenSd, blue } = of(i / STEPS)
      const { alone, foreignSd, greenPerBlue, mostGreen } = blue!
      const widened = widenedByForeign(greenSd, alone * greenPerBlue, mostGreen)
      if (Math.abs(green) > FAR * widened) expect(value).toBe(0)
      else
        expectClose(
          value,
          colourLikelihood(green, greenSd, blue!.value, blue!.sd, alone, foreignSd, widened),
          1e-9,
          `point ${i}`,
        )
    }
    // Too far off for green by itself: foreign light still explains the colour.
    const wide = of(1.4)
    expect(Math.abs(wide.green) / wide.greenSd).toBeGreaterThan(FAR)
    expect(found[1.4 * STEPS]).toBeGreaterThan(0)
  })

  test('forgets the hypothesis before', () => {
    const place = new Between(NODES, STEPS)
    const likelihood = new LikelihoodBetween(place, FAR)
    const list = (of: (x: number) => ReadingResidual) =>
      Array.from({ length: NODES }, (_, i) => of(i))
    const all = (of: (x: number) => ReadingResidual) => {
      const found: [number, number][] = []
      likelihood.fill(list(of))
      likelihood.each((i, value) => found.push([i, value]))
      return found
    }
    const first = all(GREEN_ONLY)
    all(withBlue(false))
    expect(all(GREEN_ONLY)).toEqual(first)
  })
})
