/** In what the axis of a spectrum is written. */
export type WavelengthUnit = 'nm' | 'um' | 'angstrom' | 'per cm' | 'eV'

/** What a spectrometer for the visible and near infrared can give, nm. */
export const WAVELENGTH_RANGE_NM: readonly [number, number] = [150, 2600]

/** hc / e in eV nm (SI, exact to the digits given). */
const EV_NM = 1239.841984

/**
 * A value of an axis as a wavelength, nm: wavenumbers and energies are turned round. A wavenumber counts
 * waves in vacuum; air shortens them by 0.03 %, 0.2 nm at 600 nm, which is within the scale's error.
 */
export function axisToNm(value: number, unit: WavelengthUnit): number {
  switch (unit) {
    case 'nm':
      return value
    case 'um':
      return value * 1000
    case 'angstrom':
      return value / 10
    case 'per cm':
      return 1e7 / value
    case 'eV':
      return EV_NM / value
  }
}

/**
 * The unit by the size of the values, nm and um only: 5000 may be an angstrom or a wavenumber, and 2 an
 * energy or a micrometre at the edge. Null when neither fits.
 */
export function unitFromMagnitude(medianWavelength: number): WavelengthUnit | null {
  const [low, high] = WAVELENGTH_RANGE_NM
  if (medianWavelength >= low && medianWavelength <= high) return 'nm'
  if (medianWavelength >= low / 1000 && medianWavelength <= high / 1000) return 'um'
  return null
}

/** What a heading says of the axis; a Raman shift counts from its laser and is no wavelength. */
export type AxisHeading = WavelengthUnit | 'raman shift'

/**
 * The unit that a heading names, null when none. Micro sign and Greek mu both count, as do the many ways
 * to write a reciprocal centimetre.
 *
 * @example unitFromHeading('Wavenumber (cm-1)') // 'per cm'
 */
export function unitFromHeading(heading: string): AxisHeading | null {
  const text = heading.toLowerCase()
  if (/raman|stokes|shift/.test(text)) return 'raman shift'
  if (
    /wave ?numb|(?:1|−1|-1)\s*\/\s*cm|cm\s*\^?\s*\(?\s*[-−–⁻]\s*[1¹]|cm⁻¹|kayser|inverse c/.test(
      text,
    )
  ) {
    return 'per cm'
  }
  if (/(?:^|[^a-z])(?:nm|nanomet)/.test(text)) return 'nm'
  if (/(?:^|[^a-z])(?:um|micron|micromet)|[µμ]m/.test(text)) return 'um'
  if (/angstr|ångstr|å|\(a\)|\[a\]/.test(text)) return 'angstrom'
  if (/(?:^|[^a-z])ev(?:$|[^a-z])|electron ?volt/.test(text)) return 'eV'
  return null
}

/** False for wavelengths outside {@link WAVELENGTH_RANGE_NM}. */
export function isPossibleNm(nm: number): boolean {
  return nm >= WAVELENGTH_RANGE_NM[0] && nm <= WAVELENGTH_RANGE_NM[1]
}
