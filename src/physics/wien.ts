import { PLANCK_CONSTANT, SECOND_RADIATION_CONSTANT, SPEED_OF_LIGHT } from './constants.ts'
import { planckRadiance, temperatureFromRadiance } from './planck.ts'

const FIRST_CONSTANT_RADIANCE = 2 * PLANCK_CONSTANT * SPEED_OF_LIGHT * SPEED_OF_LIGHT

/**
 * Spectral radiance of a black body in Wien's approximation, which drops the -1 of Planck's law.
 *
 * @param wavelengthM wavelength, m, > 0
 * @param temperatureK K; 0 and below give 0
 * @param c2 second radiation constant, m K
 * @returns W sr^-1 m^-3. Low by the factor 1 - exp(-c2 / (wavelength T)): less than 1e-3 while
 *   wavelength times temperature stays below 2.08e-3 m K (650 nm: below 3200 K)
 * Source: Wien 1896; the bound is the ratio of the two laws.
 */
export function wienRadiance(
  wavelengthM: number,
  temperatureK: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  if (!(temperatureK > 0)) return 0
  return (FIRST_CONSTANT_RADIANCE / wavelengthM ** 5) * Math.exp(-c2 / (wavelengthM * temperatureK))
}

/**
 * Inverse of {@link wienRadiance}.
 *
 * @returns K; 0 where the radiance is not above 0, Infinity where it reaches the Wien limit
 *   2 h c^2 / wavelength^5, which no temperature exceeds
 */
export function temperatureFromWienRadiance(
  wavelengthM: number,
  radiance: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  if (!(radiance > 0)) return 0
  const exponent = Math.log(FIRST_CONSTANT_RADIANCE / (wavelengthM ** 5 * radiance))
  return exponent > 0 ? c2 / (wavelengthM * exponent) : Number.POSITIVE_INFINITY
}

/**
 * Brightness (radiance) temperature in Wien's approximation: the temperature of the black body
 * that is as bright at this wavelength. 1/Tb = 1/T - (wavelength / c2) ln(emissivity).
 *
 * @param trueK true temperature, K, > 0
 * @param wavelengthM m
 * @param emissivity spectral emissivity at that wavelength, 0 < e <= 1; anything else throws
 * @returns K, at most trueK
 * @example brightnessTemperatureWien(2000, 665e-9, 0.435) // 1857; K, tungsten
 * Source: e.g. Kaye & Laby 2.3.4.
 */
export function brightnessTemperatureWien(
  trueK: number,
  wavelengthM: number,
  emissivity: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  assertEmissivity(emissivity)
  return 1 / (1 / trueK - (wavelengthM / c2) * Math.log(emissivity))
}

/**
 * Inverse of {@link brightnessTemperatureWien}. This is the closed form behind the printed
 * correction tables; it overstates the exact correction when it is hot (11 K of 1690 K at
 * 3273 K, emissivity 0.1, 650 nm).
 *
 * @returns K; Infinity where no temperature is as bright with that emissivity
 */
export function trueTemperatureFromBrightnessWien(
  brightnessK: number,
  wavelengthM: number,
  emissivity: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  assertEmissivity(emissivity)
  const reciprocal = 1 / brightnessK + (wavelengthM / c2) * Math.log(emissivity)
  return reciprocal > 0 ? 1 / reciprocal : Number.POSITIVE_INFINITY
}

/** Brightness temperature by Planck's law without approximation; see its Wien form for units. */
export function brightnessTemperature(
  trueK: number,
  wavelengthM: number,
  emissivity: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  assertEmissivity(emissivity)
  return temperatureFromRadiance(
    wavelengthM,
    emissivity * planckRadiance(wavelengthM, trueK, c2),
    c2,
  )
}

/** Inverse of {@link brightnessTemperature}: the true temperature, finite for every input > 0. */
export function trueTemperatureFromBrightness(
  brightnessK: number,
  wavelengthM: number,
  emissivity: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  assertEmissivity(emissivity)
  return temperatureFromRadiance(
    wavelengthM,
    planckRadiance(wavelengthM, brightnessK, c2) / emissivity,
    c2,
  )
}

function assertEmissivity(emissivity: number): void {
  if (!(emissivity > 0 && emissivity <= 1))
    throw new RangeError(`emissivity ${emissivity}: must be above 0 and at most 1`)
}
