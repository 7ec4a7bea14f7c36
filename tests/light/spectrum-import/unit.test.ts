import { expect, test } from 'vitest'
import {
  isPossibleNm,
  unitFromHeading,
  unitFromMagnitude,
} from '../../../src/light/spectrum-import/unit.ts'

test('a spectrometer for the visible and near infrared gives wavelengths from 150 to 2600 nm', () => {
  expect([150, 2600, 1400].map(isPossibleNm)).toEqual([true, true, true])
  expect([149.99, 2600.01, Number.NaN].map(isPossibleNm)).toEqual([false, false, false])
})

// Common practice: how spectrometers and data sheets head the column.
test.each([
  ['nm', 'nm'],
  ['Wavelength (nm)', 'nm'],
  ['Wavelength_nanometers', 'nm'],
  ['um', 'um'],
  ['λ / µm', 'um'],
  ['microns', 'um'],
  ['Angstroms', 'angstrom'],
  ['wl [A]', 'angstrom'],
  ['eV', 'eV'],
  ['Energy (eV)', 'eV'],
  ['electron volts', 'eV'],
  ['1/cm', 'per cm'],
  ['Wavenumber', 'per cm'],
  ['cm-1', 'per cm'],
  ['cm⁻¹', 'per cm'],
  ['Raman shift (cm-1)', 'raman shift'],
  ['column', null],
  ['level', null],
  ['volume', null],
])('the heading “%s” names %s', (heading, unit) => {
  expect(unitFromHeading(heading)).toBe(unit)
})

test('without a heading the size of the values tells nanometres from micrometres, and nothing else', () => {
  const [least, most] = [150, 2600]
  expect([least, 550, most].map(unitFromMagnitude)).toEqual(['nm', 'nm', 'nm'])
  expect([least / 1000, 0.55, most / 1000].map(unitFromMagnitude)).toEqual(['um', 'um', 'um'])
  expect([least / 1010, most / 990, least - 1, most + 1].map(unitFromMagnitude)).toEqual(
    Array(4).fill(null),
  )
})
