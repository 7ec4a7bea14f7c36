import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  exponentialTemperature,
  radiativeCoolingSeconds,
  radiativeRate,
  radiativeTemperature,
} from '../../src/physics/cooling.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

/** A round bar of 10 mm: volume over area is a quarter of the diameter. */
const BAR = {
  densityKgM3: 7600,
  specificHeatJKgK: 650,
  volumeOverAreaM: 0.0025,
  emissivity: 0.85,
}

describe('cooling by radiation', () => {
  test('a 10 mm steel bar takes 46.5 s from 1300 to 1000 K', () => {
    // Closed form t = rho c V / (3 eps sigma A) (1/T^3 - 1/T0^3), worked by hand.
    expectPrinted(radiativeCoolingSeconds(radiativeRate(BAR), 1300, 1000), '46.5')
  })

  test('the form with surroundings meets the one without as they grow cold', () => {
    const rate = radiativeRate(BAR)
    const without = radiativeCoolingSeconds(rate, 1300, 1000)
    expectClose(radiativeCoolingSeconds(rate, 1300, 1000, 50), without, 1e-4)
    // A room of 293 K gives back (293/1150)^4 = 0.4 % of it.
    expectClose(radiativeCoolingSeconds(rate, 1300, 1000, 293), without * 1.0048, 1e-3)
  })

  test('the form with surroundings is the integral of its own rate', () => {
    const [rate, room] = [radiativeRate(BAR), 293]
    let seconds = 0
    const steps = 20_000
    for (let i = 0; i < steps; i++) {
      const t = 1300 - ((i + 0.5) / steps) * 600
      seconds += 600 / steps / (rate * (t ** 4 - room ** 4))
    }
    expectClose(radiativeCoolingSeconds(rate, 1300, 700, room), seconds, 1e-8)
  })

  test('time and temperature are inverses', () => {
    const rate = radiativeRate(BAR)
    fc.assert(
      fc.property(
        fc.double({ min: 600, max: 1999, noNaN: true }),
        fc.double({ min: 2000, max: 3000, noNaN: true }),
        (to, from) => {
          const seconds = radiativeCoolingSeconds(rate, from, to)
          expectClose(radiativeTemperature(rate, from, seconds), to, 1e-9)
        },
      ),
    )
  })

  test('nothing cools below its surroundings', () => {
    expect(radiativeCoolingSeconds(1e-12, 1300, 290, 293)).toBe(Number.POSITIVE_INFINITY)
  })
})

test('after one time constant 63.2 % of the way is done', () => {
  // 1 - 1/e = 0.632 (any textbook of control engineering).
  expectPrinted((exponentialTemperature(1300, 300, 60, 60) - 300) / 1000, '0.632')
})
