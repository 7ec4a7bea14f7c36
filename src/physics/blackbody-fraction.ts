import { SECOND_RADIATION_CONSTANT } from './constants.ts'

/** Terms of the series; at x = 0.2 the last one is below 1e-9 of the sum. */
const TERMS = 120

/**
 * Share of a black body's radiant exitance below a wavelength, 0..1.
 *
 * @param wavelengthM m, >= 0 (0 gives 0)
 * @param temperatureK K, > 0
 * Range: x = c2 / (wavelength temperature) from 0.2 upwards; below, the share left is under 0.03 %.
 * @example blackbodyFractionBelow(3e-6, 1173.15) // 0.387
 * Source: integral of Planck's law as a series, e.g. Chang & Rhee 1984, Int. Commun. Heat Mass
 *   Transfer 11, 451.
 */
export function blackbodyFractionBelow(wavelengthM: number, temperatureK: number): number {
  if (!(wavelengthM > 0) || !(temperatureK > 0)) return 0
  const x = SECOND_RADIATION_CONSTANT / (wavelengthM * temperatureK)
  let sum = 0
  for (let n = 1; n <= TERMS; n++) {
    const nx = n * x
    sum += (Math.exp(-nx) / n ** 4) * (((nx + 3) * nx + 6) * nx + 6)
  }
  return Math.min(1, (15 / Math.PI ** 4) * sum)
}
