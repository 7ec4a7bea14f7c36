import { describe, expect, test } from 'vitest'
import type { HeatCurve } from '../../../src/estimate/recording/heat-curve.ts'
import { fitLaws, radiativeCourse } from '../../../src/estimate/recording/laws.ts'
import { exponentialTemperature } from '../../../src/physics/cooling.ts'
import { expectClose } from '../../close-to.ts'
import { curveOf, type Made, rmsOf } from './simulated-curves.ts'

describe('numbers of a law', () => {
  const fitted = (curve: HeatCurve, law: 'exponential' | 'radiative', until = 1e3) =>
    fitLaws(curve, 0, until, 293).find((one) => one.law === law)!

  test('of Newton’s scatter as much as they say', () => {
    const of = (seed: number) =>
      fitted(
        curveOf((t) => exponentialTemperature(1250, 950, 40, t), { noiseK: 1, seed, count: 240 }),
        'exponential',
      )
    const draws = Array.from({ length: 8 }, (_, i) => of(i + 1))
    for (const off of [
      (one: (typeof draws)[0]) => (one.tauSeconds - 40) / one.tauUncertainty,
      (one: (typeof draws)[0]) => (one.endK - 1250) / one.endUncertaintyK,
    ]) {
      const ratio = rmsOf((seed) => off(draws[seed - 1]!), 8)
      expect(ratio).toBeGreaterThan(0.3)
      expect(ratio).toBeLessThan(1.6)
    }
    const { rmsK, rate, probability } = draws[3]!
    expectClose(rmsK, 1, 0.15)
    expect(rate).toBeNull()
    expect(probability).toBeGreaterThan(0.05)
  })

  const course = radiativeCourse(
    Float64Array.from({ length: 240 }, (_, i) => i / 2),
    1500,
    4e-12,
    293,
  )
  const cooling = (made: Made) =>
    curveOf((t) => course[Math.round(2 * t)]!, { count: 240, ...made })

  test('of radiation into a room are the rate and its time constant, 1/(4 k T³) of the mean', () => {
    const found = fitted(cooling({ noiseK: 1 }), 'radiative')
    expectClose(found.rate!, 4e-12, 0.01)
    const mean = course.reduce((a, b) => a + b, 0) / course.length
    expectClose(found.tauSeconds, 1 / (4 * 4e-12 * mean ** 3), 0.02)
    expectClose(found.tauUncertainty / found.tauSeconds, found.rateUncertainty! / found.rate!, 1e-9)
    expect([found.endK, found.endUncertaintyK]).toEqual([293, 0])
    const ratio = rmsOf((seed) => {
      const one = fitted(cooling({ noiseK: 1, seed }), 'radiative')
      return (one.rate! - 4e-12) / one.rateUncertainty!
    }, 8)
    expect(ratio).toBeGreaterThan(0.4)
    expect(ratio).toBeLessThan(1.3)
  })

  test('of warming by radiation are the furnace’s too', () => {
    const warming = radiativeCourse(
      Float64Array.from({ length: 240 }, (_, i) => i / 2),
      950,
      1e-11,
      1300,
    )
    const curve = curveOf((t) => warming[Math.round(2 * t)]!, { count: 240, noiseK: 0.3 })
    const found = fitted(curve, 'radiative')
    expect(Math.abs(found.endK - 1300)).toBeLessThan(3 * found.endUncertaintyK + 0.5)
    expect(found.endUncertaintyK).toBeGreaterThan(0)
    expectClose(found.rate!, 1e-11, 0.05)
    expect(found.fits).toBe(true)
  })

  test('where a law does not hold are as unsure as what is left, and the largest block is told', () => {
    // A straight fall with a step of 20 K in its middle.
    const curve = curveOf(
      (t) => exponentialTemperature(900, 1300, 40, t) + (t > 30 && t < 36 ? 20 : 0),
      {
        count: 240,
        noiseK: 0.2,
      },
    )
    const found = fitted(curve, 'exponential')
    expect(found.fits).toBe(false)
    expect(found.largestBlockK).toBeGreaterThan(10)
    expect(found.rmsK).toBeGreaterThan(2)
    const clean = fitted(
      curveOf((t) => exponentialTemperature(900, 1300, 40, t), { count: 240, noiseK: 0.2 }),
      'exponential',
    )
    expect(found.tauUncertainty).toBeGreaterThan(4 * clean.tauUncertainty)
  })

  test('of a long recording are those of its means', () => {
    const long = curveOf((t) => exponentialTemperature(1250, 950, 40, t), {
      count: 3000,
      step: 0.05,
      noiseK: 1,
    })
    const found = fitted(long, 'exponential')
    expectClose(found.tauSeconds, 40, 0.02)
    // Means of eight.
    expectClose(found.rmsK, 1 / Math.sqrt(8), 0.15)
    expect(found.fits).toBe(true)
  })
})
