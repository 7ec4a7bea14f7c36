import { SECOND_RADIATION_CONSTANT } from './constants.ts'

/** Spectral emissivity (0..1) at a wavelength and a temperature. */
export type SpectralEmissivity = (wavelengthNm: number, temperatureK: number) => number

/** One known value of a spectral emissivity. */
export interface EmissivityPoint {
  readonly wavelengthNm: number
  readonly emissivity: number
}

/** The same emissivity at every wavelength and temperature. */
export const greyEmissivity =
  (emissivity: number): SpectralEmissivity =>
  () =>
    emissivity

/**
 * Emissivity linear in wavelength between known points and held constant beyond the outermost:
 * a slope that nobody measured is not continued.
 *
 * @param points at least one, in rising order of wavelength
 */
export function emissivityFromPoints(points: readonly EmissivityPoint[]): SpectralEmissivity {
  const first = points[0]
  const last = points[points.length - 1]
  if (!first || !last) throw new RangeError('emissivityFromPoints: no points, at least one needed')
  return (wavelengthNm) => {
    if (wavelengthNm <= first.wavelengthNm) return first.emissivity
    for (let i = 1; i < points.length; i++) {
      const a = points[i - 1]!
      const b = points[i]!
      if (wavelengthNm <= b.wavelengthNm) {
        const share = (wavelengthNm - a.wavelengthNm) / (b.wavelengthNm - a.wavelengthNm)
        return a.emissivity + share * (b.emissivity - a.emissivity)
      }
    }
    return last.emissivity
  }
}

/**
 * c2 (1/short - 1/long), K: how fast the log ratio of two wavelengths' radiances moves with the
 * reciprocal of temperature. The whole of two-colour pyrometry is in this number.
 */
function ratioScale(shortNm: number, longNm: number, c2: number): number {
  if (!(shortNm > 0 && longNm > shortNm))
    throw new RangeError(`wavelengths ${shortNm}, ${longNm} nm: the first must be the shorter`)
  return c2 * (1e9 / shortNm - 1e9 / longNm)
}

/**
 * Colour (ratio) temperature of a surface, Wien's approximation: the black body whose radiances
 * at the two wavelengths stand in the same ratio.
 * 1/Tc = 1/T - ln(e_short / e_long) / (c2 (1/short - 1/long)).
 *
 * @param trueK K, > 0
 * @param logEmissivityRatio ln(e_short / e_long); 0 for a grey body, above 0 reads hot
 * @returns K; Infinity where the surface looks bluer than any black body in this approximation
 * Source: e.g. Michalski et al., Temperature Measurement, 2nd ed., chapter on ratio pyrometers.
 */
export function colourTemperatureWien(
  trueK: number,
  logEmissivityRatio: number,
  shortNm: number,
  longNm: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  const reciprocal = 1 / trueK - logEmissivityRatio / ratioScale(shortNm, longNm, c2)
  return reciprocal > 0 ? 1 / reciprocal : Number.POSITIVE_INFINITY
}

/** Inverse of {@link colourTemperatureWien}: the true temperature, K. */
export function trueTemperatureFromColourWien(
  colourK: number,
  logEmissivityRatio: number,
  shortNm: number,
  longNm: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  return colourTemperatureWien(colourK, -logEmissivityRatio, shortNm, longNm, c2)
}

/**
 * ln of the ratio of a black body's radiances at two wavelengths, L(short) / L(long), by Planck's
 * law. Rises with temperature from -Infinity to 4 ln(long / short), the Rayleigh-Jeans limit.
 *
 * @param temperatureK K; 0 and below give -Infinity
 */
export function logRadianceRatio(
  temperatureK: number,
  shortNm: number,
  longNm: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  ratioScale(shortNm, longNm, c2)
  if (!(temperatureK > 0)) return Number.NEGATIVE_INFINITY
  const a = (c2 * 1e9) / (shortNm * temperatureK)
  const b = (c2 * 1e9) / (longNm * temperatureK)
  return 5 * Math.log(longNm / shortNm) + logExpm1(b) - logExpm1(a)
}

/** ln(e^x - 1), without overflow for large x. */
const logExpm1 = (x: number): number => (x > 36 ? x : Math.log(Math.expm1(x)))

/**
 * Ratio temperature: the black body with the given ln(L(short) / L(long)); the inverse of
 * {@link logRadianceRatio}, by Newton's method in 1/T, where the relation is nearly straight.
 *
 * @returns K; 0 for -Infinity, Infinity at or above the Rayleigh-Jeans limit
 */
export function ratioTemperature(
  logRatio: number,
  shortNm: number,
  longNm: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  const scale = ratioScale(shortNm, longNm, c2)
  if (logRatio === Number.NEGATIVE_INFINITY) return 0
  if (logRatio >= 4 * Math.log(longNm / shortNm)) return Number.POSITIVE_INFINITY
  const a = (c2 * 1e9) / shortNm
  const b = (c2 * 1e9) / longNm
  // The curve is concave and Wien's 1/T lies to the right of the root, so Newton cannot overshoot.
  let x = (5 * Math.log(longNm / shortNm) - logRatio) / scale
  for (let i = 0; i < 60; i++) {
    const f = 5 * Math.log(longNm / shortNm) + logExpm1(b * x) - logExpm1(a * x) - logRatio
    const slope = b / -Math.expm1(-b * x) - a / -Math.expm1(-a * x)
    const next = x - f / slope
    if (Math.abs(next - x) <= 1e-15 * x) return 1 / next
    x = next
  }
  return 1 / x
}

/** Colour temperature of a surface by Planck's law; see {@link colourTemperatureWien}. */
export function colourTemperature(
  trueK: number,
  logEmissivityRatio: number,
  shortNm: number,
  longNm: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  const logRatio = logRadianceRatio(trueK, shortNm, longNm, c2) + logEmissivityRatio
  return ratioTemperature(logRatio, shortNm, longNm, c2)
}

/** Inverse of {@link colourTemperature}: the true temperature, K. */
export function trueTemperatureFromColour(
  colourK: number,
  logEmissivityRatio: number,
  shortNm: number,
  longNm: number,
  c2 = SECOND_RADIATION_CONSTANT,
): number {
  return colourTemperature(colourK, -logEmissivityRatio, shortNm, longNm, c2)
}

/**
 * Standard uncertainty of ln(emissivity at 550 nm / at 650 nm) of a surface of which nothing is known,
 * about 0: oxides and clean metals lie within twice this (spread of materials.data.ts).
 */
export const UNKNOWN_SLOPE_UNCERTAINTY = 0.05
