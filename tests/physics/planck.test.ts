import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  SECOND_RADIATION_CONSTANT,
  STEFAN_BOLTZMANN,
  WIEN_DISPLACEMENT,
} from '../../src/physics/constants.ts'
import { planckRadiance, temperatureFromRadiance } from '../../src/physics/planck.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

const temperature = fc.double({ min: 300, max: 20000, noNaN: true })
const wavelength = fc.double({ min: 300e-9, max: 20e-6, noNaN: true })

describe("Planck's law", () => {
  it('rests on c2 = 0.014387768775 m K (CODATA 2018)', () => {
    expectPrinted(SECOND_RADIATION_CONSTANT * 1e12, '14387768775')
  })

  it('has its maximum where Wien says, b = 2897.771955 um K (CODATA 2018)', () => {
    for (const t of [800, 1357.77, 3000]) {
      const peak = WIEN_DISPLACEMENT / t
      const at = (share: number) => planckRadiance(peak * share, t)
      expect(at(1)).toBeGreaterThan(at(0.9999))
      expect(at(1)).toBeGreaterThan(at(1.0001))
    }
  })

  it('integrates to sigma T^4 / pi (Stefan-Boltzmann, CODATA 2018)', () => {
    const t = 1173.15
    let sum = 0
    const n = 4000
    for (let i = 0; i <= n; i++) {
      // Simpson in the logarithm of wavelength, 0.2 um to 20 mm.
      const l = 0.2e-6 * 1e5 ** (i / n)
      const weight = i === 0 || i === n ? 1 : i % 2 ? 4 : 2
      sum += (weight * planckRadiance(l, t) * l * Math.log(1e5)) / (3 * n)
    }
    expectClose(sum, (STEFAN_BOLTZMANN * t ** 4) / Math.PI, 1e-8)
  })

  it('inverts, rises with temperature, and is 0 at nothing', () => {
    fc.assert(
      fc.property(wavelength, temperature, (l, t) => {
        const radiance = planckRadiance(l, t)
        fc.pre(radiance > 1e-280)
        expectClose(temperatureFromRadiance(l, radiance), t, 1e-12)
        expect(planckRadiance(l, t * 1.001)).toBeGreaterThan(radiance)
      }),
    )
    expect(planckRadiance(650e-9, 0)).toBe(0)
    expect(temperatureFromRadiance(650e-9, 0)).toBe(0)
  })
})
