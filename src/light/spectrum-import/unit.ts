export type WavelengthUnit = 'nm' | 'um'

/** What a spectrometer for the visible and near infrared can give, nm. */
export const WAVELENGTH_RANGE_NM: readonly [number, number] = [150, 2600]

/** Nanometres in one unit. */
export const NM_PER_UNIT: Record<WavelengthUnit, number> = { nm: 1, um: 1000 }

/** The unit by the size of the values; the two ranges do not touch. Null when neither fits. */
export function unitFromMagnitude(medianWavelength: number): WavelengthUnit | null {
  const [low, high] = WAVELENGTH_RANGE_NM
  if (medianWavelength >= low && medianWavelength <= high) return 'nm'
  if (medianWavelength >= low / 1000 && medianWavelength <= high / 1000) return 'um'
  return null
}

/** The unit that a heading names, null when none. Micro sign and Greek mu both count. */
export function unitFromHeading(heading: string): WavelengthUnit | null {
  const text = heading.toLowerCase()
  if (/(?:^|[^a-z])(?:nm|nanomet)/.test(text)) return 'nm'
  if (/(?:^|[^a-z])(?:um|micron|micromet)|[µμ]m/.test(text)) return 'um'
  return null
}

/** False for wavelengths outside {@link WAVELENGTH_RANGE_NM}. */
export function isPossibleNm(wavelengthNm: number): boolean {
  return wavelengthNm >= WAVELENGTH_RANGE_NM[0] && wavelengthNm <= WAVELENGTH_RANGE_NM[1]
}
