/** A spectrum with the instrument taken out, in the trusted range: any scale, the same in all columns. */
export interface CorrectedSpectrum {
  readonly wavelengthNm: readonly number[]
  /** Spectral radiance seen by the eye of the instrument; the fit's largest value is 1. */
  readonly radiance: readonly number[]
  /** Standard uncertainty of each sample by noise. */
  readonly sigma: readonly number[]
  /** The fit at the same wavelengths. */
  readonly fit: readonly number[]
}

/** What a fit says beyond the samples, same scale: radiance at a wavelength in nm. */
export type FittedRadiance = (wavelengthNm: number) => number

/**
 * Radiance near a wavelength: the mean quotient of samples and fit in a band, times the fit at its
 * middle. Within the band only departures from the fit are averaged, so its width costs nothing.
 *
 * @returns null where the band holds no samples or reaches beyond them
 */
export function correctedRadiance(
  spectrum: CorrectedSpectrum,
  fitted: FittedRadiance,
  centreNm: number,
  halfWidthNm: number,
): { readonly radiance: number; readonly sigma: number } | null {
  const { wavelengthNm, radiance, sigma, fit } = spectrum
  const first = wavelengthNm[0]!
  const last = wavelengthNm[wavelengthNm.length - 1]!
  if (!(centreNm - halfWidthNm >= first && centreNm + halfWidthNm <= last)) return null
  // Weights of equal relative worth to a constant quotient: sum of samples over sum of fit.
  let sum = 0
  let model = 0
  let variance = 0
  for (let i = lowerBound(wavelengthNm, centreNm - halfWidthNm); i < wavelengthNm.length; i++) {
    if (wavelengthNm[i]! > centreNm + halfWidthNm) break
    sum += radiance[i]!
    model += fit[i]!
    variance += sigma[i]! ** 2
  }
  if (!(model > 0)) return null
  const scale = fitted(centreNm) / model
  return { radiance: sum * scale, sigma: Math.sqrt(variance) * scale }
}

/** Index of the first value at or above a limit. */
function lowerBound(values: readonly number[], limit: number): number {
  let low = 0
  let high = values.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (values[middle]! < limit) low = middle + 1
    else high = middle
  }
  return low
}
