/**
 * Fundamental constants, SI units.
 * Source: CODATA 2018 / SI Brochure 9 (h, c, k exact since 2019).
 */

/** Planck constant, J s (exact). */
export const PLANCK_CONSTANT = 6.62607015e-34
/** Speed of light in vacuum, m/s (exact). */
export const SPEED_OF_LIGHT = 299792458
/** Boltzmann constant, J/K (exact). */
export const BOLTZMANN_CONSTANT = 1.380649e-23

/** Second radiation constant c2 = h c / k, m K (0.014387768775...). */
export const SECOND_RADIATION_CONSTANT = (PLANCK_CONSTANT * SPEED_OF_LIGHT) / BOLTZMANN_CONSTANT
/** c2 as the ITS-90 fixes it, m K. Tables printed before 2019 rest on it. */
export const SECOND_RADIATION_CONSTANT_ITS90 = 0.014388
/** Wien displacement constant b, m K: wavelength of peak radiance times temperature. */
export const WIEN_DISPLACEMENT = 2.897771955e-3
/** Stefan-Boltzmann constant, W m^-2 K^-4. */
export const STEFAN_BOLTZMANN = 5.670374419e-8

/** 0 °C in kelvin (exact). */
export const ZERO_CELSIUS_K = 273.15
