import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { xyFromXyz } from '../../src/colour/chromaticity.ts'
import {
  D50,
  D50_K,
  D55,
  D55_K,
  D65,
  D65_K,
  DAYLIGHT_COLDEST_K,
  DAYLIGHT_HOTTEST_K,
  daylightSpectrum,
  daylightXy,
} from '../../src/colour/daylight.ts'
import { xyzFromSpectrum } from '../../src/colour/xyz.ts'
import { expectPrinted } from '../close-to.ts'
import { directXyz } from './direct-integration.ts'

const ILLUMINANTS = [
  ['D50', D50, D50_K],
  ['D55', D55, D55_K],
  ['D65', D65, D65_K],
] as const

test('the spectrum of D65 is the table of the standard', () => {
  // ISO 11664-2 / CIE 15:2004, table T.1 (from memory, checked digits).
  const d65 = daylightSpectrum(D65_K)
  expectPrinted(d65(400), '82.7549')
  expectPrinted(d65(450), '117.008')
  expectPrinted(d65(500), '109.354')
  expectPrinted(d65(560), '100.000')
  expectPrinted(d65(600), '90.0062')
  expectPrinted(d65(700), '71.6091')
})

describe.each(ILLUMINANTS)('%s', (_, xy, temperatureK) => {
  test('its spectrum has its chromaticity', () => {
    // CIE 15:2004, table T.3. Sums over the published 1 nm table differ from the print by up to
    // 1.4e-5 (D50, x); the shipped 5 nm sums by as much again.
    const [X, Y, Z] = directXyz(daylightSpectrum(temperatureK))
    expect(Math.abs(X / (X + Y + Z) - xy.x)).toBeLessThan(1.5e-5)
    expect(Math.abs(Y / (X + Y + Z) - xy.y)).toBeLessThan(1.5e-5)
    const shipped = xyFromXyz(xyzFromSpectrum(daylightSpectrum(temperatureK)))!
    expect(Math.abs(shipped.x - xy.x)).toBeLessThan(3e-5)
    expect(Math.abs(shipped.y - xy.y)).toBeLessThan(3e-5)
  })

  test('the formula for the phases of daylight meets it', () => {
    // The formula is a fit; it misses the table's y by 1e-4 at most (CIE 15:2004, 3.1).
    const formula = daylightXy(temperatureK)
    expect(Math.abs(formula.x - xy.x)).toBeLessThan(1e-4)
    expect(Math.abs(formula.y - xy.y)).toBeLessThan(1.2e-4)
  })
})

test('hotter daylight is bluer, all along its range', () => {
  fc.assert(
    fc.property(fc.double({ min: 4000, max: 24000, noNaN: true }), (temperatureK) => {
      expect(daylightXy(temperatureK * 1.01).x).toBeLessThan(daylightXy(temperatureK).x)
    }),
  )
})

test('outside its range the end stands', () => {
  expect(daylightXy(1000)).toEqual(daylightXy(DAYLIGHT_COLDEST_K))
  expect(daylightXy(1e6)).toEqual(daylightXy(DAYLIGHT_HOTTEST_K))
})
