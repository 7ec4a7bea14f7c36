import type { Triple } from '../numerics/matrix3.ts'
import { PLANCK_CONSTANT, SECOND_RADIATION_CONSTANT, SPEED_OF_LIGHT } from '../physics/constants.ts'
import type { SpectralEmissivity } from '../physics/emissivity.ts'
import {
  OBSERVER_COUNT,
  OBSERVER_FIRST_NM,
  OBSERVER_STEP_NM,
  OBSERVER_WAVELENGTHS_M,
  X_WEIGHTS,
  Y_WEIGHTS,
  Z_WEIGHTS,
} from './observer.ts'

/**
 * Luminous efficacy, lm/W: exact at 540 THz (SI Brochure 9); the 683.002 at the peak of the eye's
 * curve is rounded to it, as in CIE 15.
 */
export const LUMINOUS_EFFICACY = 683

/** Spectral radiance, W sr^-1 m^-3, or any quantity proportional to it, at a wavelength. */
export type SpectralPower = (wavelengthNm: number) => number

/**
 * Tristimulus values of a spectrum by the CIE 1931 2° observer, 360 to 830 nm by 5 nm.
 *
 * Narrower features than 5 nm (spectral lines) are not resolved.
 *
 * @returns X, Y, Z; for a spectral radiance in W sr^-1 m^-3, Y is the luminance in cd/m²
 * Source: CIE 15:2018, 7.1.
 */
export function xyzFromSpectrum(spectrum: SpectralPower): Triple {
  let x = 0
  let y = 0
  let z = 0
  for (let i = 0; i < OBSERVER_COUNT; i++) {
    const value = spectrum(OBSERVER_FIRST_NM + i * OBSERVER_STEP_NM)
    x += value * X_WEIGHTS[i]!
    y += value * Y_WEIGHTS[i]!
    z += value * Z_WEIGHTS[i]!
  }
  return [x * LUMINOUS_EFFICACY, y * LUMINOUS_EFFICACY, z * LUMINOUS_EFFICACY]
}

/**
 * A spectrum known at even steps, as a function: linear between samples, the nearest sample
 * outside.
 *
 * @param samples at least one value
 * @param firstNm wavelength of the first sample, nm
 * @param stepNm nm, > 0
 * Source: CIE 15:2018, 7.2.2.1 (extrapolation by the nearest measured value).
 */
export function spectrumFromSamples(
  samples: ArrayLike<number>,
  firstNm: number,
  stepNm: number,
): SpectralPower {
  const last = samples.length - 1
  return (wavelengthNm) => {
    const position = (wavelengthNm - firstNm) / stepNm
    const i = Math.min(Math.max(Math.floor(position), 0), Math.max(last - 1, 0))
    const t = Math.min(Math.max(position - i, 0), 1)
    const low = samples[i] ?? 0
    return low + ((samples[Math.min(i + 1, last)] ?? low) - low) * t
  }
}

const FIRST_CONSTANT = 2 * PLANCK_CONSTANT * SPEED_OF_LIGHT * SPEED_OF_LIGHT * LUMINOUS_EFFICACY
/** First radiation constant over wavelength^5, once for all temperatures. */
const SCALE = OBSERVER_WAVELENGTHS_M.map((wavelength) => FIRST_CONSTANT / wavelength ** 5)

/**
 * Tristimulus values of a glowing body (Planck's law times emissivity).
 *
 * @param temperatureK K; 0 and below give [0, 0, 0], as do temperatures so low that light underflows
 * @param c2 second radiation constant, m K; older tables rest on older values
 * @param emissivity spectral emissivity; without it a black body
 * @returns X, Y, Z, where Y is the luminance in cd/m²
 * @example planckXyz(2042)[1] // 60e4; cd/m², the candela of 1948
 * Source: Planck's law; CIE 15:2018, 7.1.
 */
export function planckXyz(
  temperatureK: number,
  c2 = SECOND_RADIATION_CONSTANT,
  emissivity?: SpectralEmissivity,
): Triple {
  if (!(temperatureK > 0)) return [0, 0, 0]
  let x = 0
  let y = 0
  let z = 0
  for (let i = 0; i < OBSERVER_COUNT; i++) {
    const exponent = c2 / (OBSERVER_WAVELENGTHS_M[i]! * temperatureK)
    const wien = Math.exp(-exponent)
    // expm1 is several times slower than exp; only temperatures beyond 1e7 K need its digits.
    let value = (SCALE[i]! * wien) / (exponent > 1e-3 ? 1 - wien : -Math.expm1(-exponent))
    if (emissivity) value *= emissivity(OBSERVER_FIRST_NM + i * OBSERVER_STEP_NM, temperatureK)
    x += value * X_WEIGHTS[i]!
    y += value * Y_WEIGHTS[i]!
    z += value * Z_WEIGHTS[i]!
  }
  return [x, y, z]
}
