import { PLANCK_CONSTANT, SECOND_RADIATION_CONSTANT, SPEED_OF_LIGHT } from './constants.ts'

const FIRST_CONSTANT_RADIANCE = 2 * PLANCK_CONSTANT * SPEED_OF_LIGHT * SPEED_OF_LIGHT

/**
 * Spectral radiance of a black body in vacuum (Planck's law).
 *
 * @param wavelengthM wavelength, m, > 0
 * @param temperatureK temperature, K; 0 and below give 0
 * @param c2 second radiation constant, m K
 * @returns W sr^-1 m^-3 (per metre of wavelength); 0 where the value underflows
 * @example planckRadiance(650e-9, 1337.33) // 6.65e7; W sr^-1 m^-3, gold point
 * Source: Planck 1901; CODATA 2018 constants.
 */
export function planckRadiance(
  wavelengthM: number,
  temperatureK: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  if (!(temperatureK > 0)) return 0
  return (
    FIRST_CONSTANT_RADIANCE / (wavelengthM ** 5 * Math.expm1(c2 / (wavelengthM * temperatureK)))
  )
}

/**
 * The temperature at which a black body has the given spectral radiance: the inverse of
 * {@link planckRadiance}.
 *
 * @param radiance W sr^-1 m^-3; 0 and below give 0 K
 * @returns K
 */
export function temperatureFromRadiance(
  wavelengthM: number,
  radiance: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  if (!(radiance > 0)) return 0
  return c2 / (wavelengthM * Math.log1p(FIRST_CONSTANT_RADIANCE / (wavelengthM ** 5 * radiance)))
}
