import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airAt } from '../../../src/physics/heat-balance/air.ts'
import { expectClose } from '../../close-to.ts'

describe('air', () => {
  it('has the Prandtl number, density and diffusivities that Incropera table A.4 prints (from memory)', () => {
    // K, kg/m^3, 1e-6 m^2/s, 1e-6 m^2/s, Pr: columns that the program computes from others.
    for (const [t, rho, nu, alpha, pr] of [
      [300, '1.1614', '15.89', '22.5', '0.707'],
      [400, '0.8711', '26.41', '38.3', '0.690'],
      [600, '0.5804', '52.69', '76.9', '0.685'],
      [800, '0.4354', '84.93', '120', '0.709'],
      [1000, '0.3482', '121.9', '168', '0.726'],
      [1500, '0.2322', '240', '350', '0.685'],
    ] as const) {
      const air = airAt(t)
      // Its density is that of 1 bar: 1.1614 * 287 * 300 = 1.0000e5 Pa.
      const bar = 1e5 / 101325
      expectClose(air.density * bar, Number(rho), 0.001, `density ${t}`)
      expectClose(air.kinematicViscosity / bar, Number(nu) * 1e-6, 0.002, `nu ${t}`)
      expectClose(air.thermalDiffusivity / bar, Number(alpha) * 1e-6, 0.01, `alpha ${t}`)
      expectClose(air.prandtl, Number(pr), 0.01, `Pr ${t}`)
    }
  })

  it("agrees with Sutherland's law of the US Standard Atmosphere 1976: 2.5 % to 1000 K, 6 % to 1500 K", () => {
    const sutherland = (t: number) => (1.458e-6 * t ** 1.5) / (t + 110.4)
    for (const t of [250, 300, 500, 700, 1000])
      expectClose(airAt(t).viscosity, sutherland(t), 0.025)
    for (const t of [1200, 1500]) expectClose(airAt(t).viscosity, sutherland(t), 0.06)
  })

  it('at 45 °C has the properties that Çengel prints: k 0.02699, nu 1.750e-5, Pr 0.7241', () => {
    // Çengel, Heat Transfer, table A-15 (table of properties of air at 1 atm).
    const air = airAt(318.15)
    expectClose(air.conductivity, 0.02699, 0.03)
    expectClose(air.kinematicViscosity, 1.75e-5, 0.015)
    expectClose(air.prandtl, 0.7241, 0.035)
  })

  it('grows thinner and more conductive with heat, is finite, and is held beyond the table', () => {
    fc.assert(
      fc.property(fc.double({ min: 200, max: 1499, noNaN: true }), (t) => {
        const [a, b] = [airAt(t), airAt(t + 1)]
        expect(b.conductivity).toBeGreaterThan(a.conductivity)
        expect(b.kinematicViscosity).toBeGreaterThan(a.kinematicViscosity)
        expect(b.density).toBeLessThan(a.density)
        for (const value of Object.values(a)) expect(Number.isFinite(value)).toBe(true)
      }),
    )
    expect(airAt(2000).conductivity).toBe(airAt(1500).conductivity)
  })
})
