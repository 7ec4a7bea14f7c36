/** What a column of a calibrated instrument counts, per wavelength. */
export type LightQuantity = 'power' | 'photons'

/**
 * The quantity that a heading or a unit names; null where it names none: counts, or nothing.
 *
 * @example lightQuantity('Irradiance (uW/cm^2/nm)') // 'power'
 * @example lightQuantity('PPFD umol m-2 s-1 nm-1') // 'photons'
 */
export function lightQuantity(heading: string): LightQuantity | null {
  if (/photon|quant(a|um)|mol\b|einstein/i.test(heading)) return 'photons'
  if (
    /(^|[^a-z])[uµμmn]?W(att)?s?\s*[/·*.\s(^-]|watt|irradiance|radiance|radiant|power\b|flux/i.test(
      heading,
    )
  ) {
    return 'power'
  }
  return null
}
