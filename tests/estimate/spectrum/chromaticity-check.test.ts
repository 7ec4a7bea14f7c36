import { describe, expect, test } from 'vitest'
import {
  OBSERVER_COUNT,
  OBSERVER_FIRST_NM,
  OBSERVER_STEP_NM,
  Y_WEIGHTS,
} from '../../../src/colour/observer.ts'
import { chromaticityCheck } from '../../../src/estimate/spectrum/chromaticity-check.ts'
import { shapeBasis } from '../../../src/estimate/spectrum/shape-error.ts'
import { normal, planck, seededRandom } from '../../accuracy/spectrum-simulation.ts'
import { expectClose } from '../../close-to.ts'

const KELVIN = 1500
const scale = 1 / planck(KELVIN)(780)
const fitted = (nm: number) => scale * planck(KELVIN)(nm)
const gridOf = (fromNm: number, toNm: number, step = 1) =>
  Array.from({ length: Math.round((toNm - fromNm) / step) + 1 }, (_, i) => fromNm + step * i)
const GRID = gridOf(370, 840)

interface Made {
  readonly nm?: readonly number[]
  /** What the light is more than the fit. */
  readonly more?: (nm: number) => number
  readonly sigma?: number
  readonly hotterK?: number
  readonly smooth?: number
  readonly zero?: readonly ((nm: number) => number)[]
}

function checked({
  nm = GRID,
  more = () => 0,
  sigma = 0,
  hotterK = 0,
  smooth = 0,
  zero = [],
}: Made) {
  const found = chromaticityCheck(
    {
      wavelengthNm: nm,
      radiance: nm.map((at) => fitted(at) + more(at)),
      sigma: nm.map(() => sigma),
      fit: nm.map(fitted),
    },
    fitted,
    (at) => scale * planck(KELVIN + hotterK)(at),
    smooth,
    zero.map((error) => Float64Array.from(nm, error)),
  )
  return found
}
function told(made: Made) {
  const found = checked(made)
  if (found.kind !== 'chromaticity') throw new Error(found.kind)
  return found
}
const cct = (made: Made) => told(made).cctK!
/** How far light with this addition lies from the fit's colour temperature. */
const movedK = (more: (nm: number) => number) => cct({ more }) - cct({})

describe('the chromaticity of a corrected spectrum', () => {
  test('is as unsure as the temperature of the fit that it was filled and judged by', () => {
    expectClose(cct({}), KELVIN, 1e-4)
    expectClose(told({ hotterK: 1 }).standardUncertaintyK!, 1, 0.02)
    expect(told({ hotterK: 1 }).fittedCctK).toBeCloseTo(cct({}), 6)
  })

  test('is as unsure as each way in which the zero may be off moves it', () => {
    const even = (_: number) => 0.0003
    const tilted = (nm: number) => (0.0004 * (nm - 600)) / 240
    const [a, b] = [movedK(even), movedK(tilted)]
    expect(Math.abs(a)).toBeGreaterThan(0.1)
    expectClose(told({ zero: [even] }).standardUncertaintyK!, Math.abs(a), 0.05)
    expectClose(told({ zero: [even, tilted] }).standardUncertaintyK!, Math.hypot(a, b), 0.05)
    // In units of these two it lies one or the root of two from the fit.
    const apart = (more: (nm: number) => number) => told({ more, zero: [even, tilted] }).apart
    expectClose(apart(even), 1, 0.02)
    expectClose(apart(tilted), 1, 0.02)
    expectClose(
      apart((nm) => even(nm) + tilted(nm)),
      Math.SQRT2,
      0.02,
    )
    expect(told({ zero: [even, tilted] }).apart).toBeCloseTo(0, 6)
  })

  test('is as unsure as departures of this size move it', () => {
    const smooth = 0.01
    const places = Float64Array.from(
      { length: OBSERVER_COUNT },
      (_, k) => OBSERVER_FIRST_NM + k * OBSERVER_STEP_NM,
    )
    const { functions, deviation } = shapeBasis(places)
    const moves = functions.map((f, k) =>
      movedK((nm) => {
        const at = Math.min(
          Math.max((nm - OBSERVER_FIRST_NM) / OBSERVER_STEP_NM, 0),
          OBSERVER_COUNT - 1,
        )
        const low = Math.min(Math.floor(at), OBSERVER_COUNT - 2)
        const value = f[low]! + (at - low) * (f[low + 1]! - f[low]!)
        return fitted(nm) * value * deviation[k]! * smooth
      }),
    )
    expectClose(told({ smooth }).standardUncertaintyK!, Math.hypot(...moves), 0.03)
  })

  test('scatters by noise as it says, and no further from the fit', () => {
    const sigma = 0.004
    const random = seededRandom(7)
    const ccts: number[] = []
    let squares = 0
    const ROUNDS = 60
    for (let round = 0; round < ROUNDS; round++) {
      const found = told({ more: () => sigma * normal(random), sigma })
      ccts.push(found.cctK! - cct({}))
      squares += found.apart ** 2
    }
    const rms = Math.sqrt(ccts.reduce((sum, value) => sum + value ** 2, 0) / ROUNDS)
    // A standard deviation of 60 is good to 9 %; bands take more samples than a step of the observer.
    expect(rms / told({ sigma }).standardUncertaintyK!).toBeGreaterThan(0.7)
    expect(rms / told({ sigma }).standardUncertaintyK!).toBeLessThan(1.3)
    // Two numbers, each with a mean square of 1.
    expect(squares / ROUNDS).toBeGreaterThan(1.2)
    expect(squares / ROUNDS).toBeLessThan(3)
  })

  test('is filled from the fit where nothing was measured, and says how much of it', () => {
    const fromNm = 450
    let [out, all] = [0, 0]
    for (let k = 0; k < OBSERVER_COUNT; k++) {
      const nm = OBSERVER_FIRST_NM + k * OBSERVER_STEP_NM
      const y = Y_WEIGHTS[k]! * fitted(nm)
      all += y
      if (nm - OBSERVER_STEP_NM / 2 < fromNm) out += y
    }
    const found = told({ nm: gridOf(fromNm, 840), more: (nm) => 0.02 * fitted(nm) })
    expectClose(found.missing[1], out / all, 0.02)
    expect(found.missing[2]).toBeGreaterThan(0.1)
    // Beyond the samples the eye sees nothing of it.
    expect(Math.max(...told({}).missing)).toBeLessThan(1e-5)
  })

  test('is none where more than a twentieth of the luminance is missing', () => {
    const at = (toNm: number) => checked({ nm: gridOf(370, toNm) })
    let [short, long] = [600, 780]
    while (long - short > 1) {
      const middle = Math.floor((short + long) / 2)
      if (at(middle).kind === 'chromaticity') long = middle
      else short = middle
    }
    // Of a red glow X has the most at the long end: the sum of all is the first to fall short.
    expect(at(short).kind).toBe('range too short')
    expect(Math.max(at(short).missing[1], at(short).missing[0])).toBeGreaterThan(0.05)
    expect(at(long).missing[1]).toBeLessThan(0.05)
    expect(at(short).missing[0] - at(long).missing[0]).toBeLessThan(0.02)
  })

  test('of coarse samples takes each band from those that lie in it', () => {
    const coarse = told({ nm: gridOf(370, 840, 10), more: (nm) => 0.03 * fitted(nm) })
    expect(coarse.missing[1]).toBeLessThan(0.001)
    expectClose(coarse.cctK!, KELVIN, 1e-3)
  })

  test('far from white has no colour temperature', () => {
    const green = told({ more: (nm) => 3 * Math.exp(-0.5 * ((nm - 530) / 10) ** 2) })
    expect(green.cctK).toBeNull()
    expect(green.duv).toBeNull()
    expect(green.standardUncertaintyK).toBeNull()
    expect(green.fittedCctK).toBeCloseTo(KELVIN, 0)
  })
})
