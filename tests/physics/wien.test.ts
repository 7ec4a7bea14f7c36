import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { SECOND_RADIATION_CONSTANT_ITS90 } from '../../src/physics/constants.ts'
import { planckRadiance } from '../../src/physics/planck.ts'
import { kelvinFromCelsius } from '../../src/physics/units.ts'
import {
  brightnessTemperature,
  brightnessTemperatureWien,
  temperatureFromWienRadiance,
  trueTemperatureFromBrightness,
  trueTemperatureFromBrightnessWien,
  wienRadiance,
} from '../../src/physics/wien.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

// Kaye & Laby 2.3.4: K to be added to the temperature observed at 0.65 um, c2 = 0.014388 m K,
// emissivity 0.1 to 0.9, by °C observed.
const KAYE_LABY: Readonly<Record<number, readonly number[]>> = {
  600: [87, 59, 44, 33, 25, 18, 12, 8, 4],
  800: [135, 91, 67, 50, 37, 27, 19, 12, 6],
  1000: [194, 130, 95, 71, 53, 39, 27, 17, 8],
  1200: [267, 177, 128, 96, 71, 52, 36, 22, 10],
  1400: [353, 232, 168, 125, 93, 67, 46, 29, 13],
  1600: [453, 295, 212, 157, 117, 85, 58, 36, 17],
  2000: [704, 450, 321, 236, 174, 126, 86, 53, 25],
  3000: [1690, 1022, 709, 513, 374, 267, 182, 112, 52],
}
const CELLS = Object.entries(KAYE_LABY).flatMap(([celsius, row]) =>
  row.map((printed, i) => ({ observedK: kelvinFromCelsius(Number(celsius)), printed, i })),
)
const correction = (invert: typeof trueTemperatureFromBrightness, observedK: number, i: number) =>
  invert(observedK, 650e-9, (i + 1) / 10, SECOND_RADIATION_CONSTANT_ITS90) - observedK

const temperature = fc.double({ min: 500, max: 4000, noNaN: true })
const emissivity = fc.double({ min: 0.02, max: 1, noNaN: true })
const wavelength = fc.double({ min: 360e-9, max: 830e-9, noNaN: true })

describe('brightness temperature', () => {
  it('gives all 72 corrections of Kaye & Laby 2.3.4 to the printed kelvin, in Wien form', () => {
    for (const { observedK, printed, i } of CELLS)
      expectPrinted(
        correction(trueTemperatureFromBrightnessWien, observedK, i),
        String(printed),
        `${observedK} K, emissivity ${(i + 1) / 10}`,
      )
  })

  it('by Planck agrees too except for five cells of the 3000 °C row: the table is Wien', () => {
    const off = CELLS.filter(
      ({ observedK, printed, i }) =>
        Math.abs(correction(trueTemperatureFromBrightness, observedK, i) - printed) > 0.5,
    )
    expect(off.map(({ observedK, i }) => [observedK, i])).toEqual(
      [0, 1, 2, 3, 4].map((i) => [3273.15, i]),
    )
  })

  it('is 1857 K for tungsten at 2000 K, e 0.435 at 0.665 um (Forsythe & Worthing, from memory)', () => {
    expectPrinted(brightnessTemperatureWien(2000, 665e-9, 0.435), '1857')
    expectPrinted(brightnessTemperature(2000, 665e-9, 0.435), '1857')
  })

  it('round-trips, never exceeds the true temperature and stays finite', () => {
    fc.assert(
      fc.property(temperature, wavelength, emissivity, (t, l, e) => {
        for (const [forth, back] of [
          [brightnessTemperature, trueTemperatureFromBrightness],
          [brightnessTemperatureWien, trueTemperatureFromBrightnessWien],
        ] as const) {
          const seen = forth(t, l, e)
          expect(seen).toBeLessThanOrEqual(t * (1 + 1e-12))
          expectClose(back(seen, l, e), t, 1e-10)
        }
      }),
    )
  })

  it('rises with temperature and with emissivity', () => {
    fc.assert(
      fc.property(temperature, wavelength, emissivity, (t, l, e) => {
        expect(brightnessTemperature(t + 1, l, e)).toBeGreaterThan(brightnessTemperature(t, l, e))
        expect(brightnessTemperature(t, l, e * 0.99)).toBeLessThan(brightnessTemperature(t, l, e))
      }),
    )
  })

  it('refuses an emissivity outside 0..1, and calls the unreachable infinite', () => {
    expect(() => brightnessTemperature(1000, 650e-9, 0)).toThrow(RangeError)
    expect(() => trueTemperatureFromBrightnessWien(1000, 650e-9, 1.01)).toThrow(RangeError)
    expect(trueTemperatureFromBrightnessWien(20000, 650e-9, 0.1)).toBe(Number.POSITIVE_INFINITY)
  })
})

describe('Wien radiance', () => {
  it('is low by exp(-c2 / (wavelength T)) against Planck (ratio of the two laws)', () => {
    fc.assert(
      fc.property(temperature, wavelength, (t, l) => {
        const share = wienRadiance(l, t) / planckRadiance(l, t)
        expectClose(share, -Math.expm1(-0.014387768775 / (l * t)), 1e-12)
      }),
    )
  })

  it('round-trips, and is 0 and 0 K at nothing', () => {
    fc.assert(
      fc.property(temperature, wavelength, (t, l) =>
        expectClose(temperatureFromWienRadiance(l, wienRadiance(l, t)), t, 1e-12),
      ),
    )
    expect(wienRadiance(650e-9, 0)).toBe(0)
    expect(temperatureFromWienRadiance(650e-9, 0)).toBe(0)
    expect(temperatureFromWienRadiance(650e-9, 1e300)).toBe(Number.POSITIVE_INFINITY)
  })
})
