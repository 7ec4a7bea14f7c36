import { WIEN_DISPLACEMENT } from '../../physics/constants.ts'

export interface ApparentPeak {
  readonly wavelengthNm: number
  /** What Wien's displacement law makes of it, K: no temperature of anything. */
  readonly temperatureK: number
}

/** Half-width of the running mean that keeps single noisy samples from being the peak, nm. */
const HALF_WIDTH_NM = 5

/**
 * The peak of a raw spectrum, and the temperature that it would mean if the instrument answered to
 * every wavelength alike. It does not: the peak of a glow below 3000 K lies beyond 950 nm, and what
 * is seen is the peak of the instrument.
 *
 * @param net signal with the dark taken off
 * @returns null where no sample is above zero
 * Source: Wien's displacement law.
 */
export function apparentPeak(
  wavelengthNm: ArrayLike<number>,
  net: ArrayLike<number>,
): ApparentPeak | null {
  let best = 0
  let bestNm = 0
  let from = 0
  let to = 0
  let sum = 0
  for (let i = 0; i < net.length; i++) {
    const at = wavelengthNm[i]!
    while (to < net.length && wavelengthNm[to]! <= at + HALF_WIDTH_NM) sum += net[to++]!
    while (wavelengthNm[from]! < at - HALF_WIDTH_NM) sum -= net[from++]!
    const mean = sum / (to - from)
    if (mean > best) {
      best = mean
      bestNm = at
    }
  }
  if (bestNm === 0) return null
  return { wavelengthNm: bestNm, temperatureK: (WIEN_DISPLACEMENT * 1e9) / bestNm }
}

/**
 * Where the radiance per wavelength of a black body peaks, nm: what the apparent peak is held against.
 *
 * @param temperatureK K, > 0
 * Source: Wien's displacement law.
 */
export function peakWavelengthNm(temperatureK: number): number {
  return (WIEN_DISPLACEMENT * 1e9) / temperatureK
}
