import { describe, expect, it } from 'vitest'
import { monotoneCubic } from '../../../src/numerics/monotone-cubic.ts'
import { kelvinFromCelsius } from '../../../src/physics/units.ts'

import { give, meter, nickelChromium, solved, sure } from './supply-inputs.ts'

// Change of resistance of 80Ni-20Cr, R/R(20 °C) by °C. Common practice of wire makers, from memory.
const RESISTANCE_FACTOR = monotoneCubic([
  [20, 1],
  [200, 1.015],
  [400, 1.045],
  [500, 1.065],
  [600, 1.068],
  [700, 1.057],
  [800, 1.051],
  [900, 1.052],
  [1000, 1.062],
  [1100, 1.071],
])

describe('published currents of nickel-chromium wire in still air', () => {
  function predicted(diameterM: number, ohmsPerMetre: number, amperes: number, celsius: number) {
    const watts = amperes ** 2 * ohmsPerMetre * RESISTANCE_FACTOR.value(celsius)
    return solved({
      object: { shape: 'wire', lengthM: sure(1), diameterM: give(diameterM, 0.5) },
      surface: nickelChromium,
      supply: { watts: meter(watts, 0) },
      room: { value: kelvinFromCelsius(20), standardUncertainty: 3 },
    })
  }

  it('a wire maker’s table, 0.25 to 0.81 mm at 500 to 1000 °C: within 2 standard uncertainties', () => {
    // Inches, and amperes at 500, 600, ... 1000 °C, straight wire, 1.08 micro-ohm m.
    const table = [
      [0.032, 6.9, 8.2, 9.7, 11.4, 13.3, 15.4],
      [0.0253, 5.1, 6.0, 7.3, 8.4, 9.6, 11.15],
      [0.0201, 3.9, 4.6, 5.4, 6.35, 7.25, 8.3],
      [0.0159, 2.9, 3.4, 3.95, 4.65, 5.4, 6.1],
      [0.0126, 2.18, 2.6, 3.04, 3.55, 4.06, 4.55],
      [0.01, 1.67, 1.97, 2.28, 2.67, 2.96, 3.42],
    ] as const
    for (const [inches, ...currents] of table)
      for (const [i, amperes] of currents.entries()) {
        const celsius = 500 + 100 * i
        const d = inches * 0.0254
        const t = predicted(d, 1.08e-6 / ((Math.PI / 4) * d * d), amperes, celsius)
        const off = t.temperatureK - kelvinFromCelsius(celsius)
        expect(Math.abs(off), `${inches} in, ${celsius} °C: ${off} K`).toBeLessThan(
          2 * t.standardUncertaintyK,
        )
      }
  })

  it('a handbook table by standard wire gauge, rises of 500 and 1000 °C: within 2', () => {
    // mm, ohm/m, A for a rise of 500 °C, A for 1000 °C (nickel-chromium, still air).
    const table = [
      [1.626, 0.52, 19, 40],
      [1.219, 0.92, 13, 27],
      [0.914, 1.65, 8.5, 18],
      [0.711, 2.72, 6.3, 13],
      [0.559, 4.4, 4.5, 9.5],
      [0.457, 6.6, 3.5, 7.0],
      [0.376, 9.7, 2.7, 5.5],
      [0.315, 13.9, 2.2, 4.5],
      [0.274, 18.3, 1.9, 3.5],
    ] as const
    for (const [mm, ohms, ...currents] of table)
      for (const [i, amperes] of currents.entries()) {
        const celsius = 520 + 500 * i
        const t = predicted(mm / 1000, ohms, amperes, celsius)
        // The currents are printed to two digits: half of the last one joins the uncertainty.
        const step = amperes >= 10 ? 0.5 : 0.05
        const printed = (t.temperatureK * (2 * step)) / amperes / 3.5
        const off = t.temperatureK - kelvinFromCelsius(celsius)
        expect(Math.abs(off), `${mm} mm, ${celsius} °C: ${off} K`).toBeLessThan(
          2 * t.standardUncertaintyK + printed,
        )
      }
  })
})
