import { expect, test } from 'vitest'
import { xyFromXyz } from '../../src/colour/chromaticity.ts'
import {
  COOL_LED,
  ILLUMINANT_A,
  ILLUMINANT_A_K,
  illuminantA,
  ledSpectrum,
  WARM_LED,
} from '../../src/colour/illuminants.ts'
import { colourTemperatureFromXy } from '../../src/colour/planckian-locus.ts'
import { xyzFromSpectrum } from '../../src/colour/xyz.ts'
import { expectPrinted } from '../close-to.ts'

test('illuminant A has the spectrum of its table', () => {
  // ISO/CIE 11664-2, CIE 15:2004, table T.1 (from memory).
  expectPrinted(illuminantA(380), '9.79510')
  expectPrinted(illuminantA(560), '100.000')
  expectPrinted(illuminantA(780), '241.675')
})

test('its chromaticity and temperature are those of CIE 15', () => {
  const xy = xyFromXyz(xyzFromSpectrum(illuminantA))!
  // One unit of the last printed digit: see the note at the locus's own check of illuminant A.
  expect(Math.abs(xy.x - ILLUMINANT_A.x)).toBeLessThan(1.5e-5)
  expect(Math.abs(xy.y - ILLUMINANT_A.y)).toBeLessThan(1.5e-5)
  expectPrinted(ILLUMINANT_A_K, '2856')
})

test.each([
  ['cool', COOL_LED, 5000],
  ['warm', WARM_LED, 2700],
] as const)('the %s model LED is a white light of about its name', (_, led, nominalK) => {
  const result = colourTemperatureFromXy(xyFromXyz(xyzFromSpectrum(ledSpectrum(led)))!)
  if (result.kind !== 'near') throw new Error(result.kind)
  // ANSI C78.377: a 2700 K or 5000 K lamp may be 145 or 275 K off and 0.006 in Duv (from memory).
  expect(Math.abs(result.temperatureK - nominalK)).toBeLessThan(nominalK > 4000 ? 275 : 145)
  expect(Math.abs(result.duv)).toBeLessThan(0.006)
})
