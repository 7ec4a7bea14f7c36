import { monotoneCubic } from '../numerics/monotone-cubic.ts'
import { SECOND_RADIATION_CONSTANT } from './constants.ts'
import { colourTemperature } from './emissivity.ts'
import {
  TUNGSTEN_EMISSIVITY_ANCHORS,
  TUNGSTEN_RESISTIVITY,
  TUNGSTEN_TOTAL_EMISSIVITY,
} from './tungsten.data.ts'
import { brightnessTemperature } from './wien.ts'

/** Where the emissivity model holds: 360 to 830 nm, K as given. */
export const TUNGSTEN_EMISSIVITY_RANGE_K = [900, 3600] as const

/** Standard uncertainty of the resistance ratio, relative: a later compilation for pure tungsten has
 * ratios 1.3 to 1.8 % higher from 500 to 900 K; lamp wire lies between, taken as a rectangle. */
export const TUNGSTEN_RESISTANCE_RATIO_RELATIVE_UNCERTAINTY = 0.01
/** Standard uncertainty of the spectral emissivity: later measurements (Larrabee 1959) lie lower by
 * up to 0.009 from 550 to 680 nm and 0.016 at 450 nm. */
export const TUNGSTEN_EMISSIVITY_UNCERTAINTY = 0.01
/** Standard uncertainty of ln(emissivity ratio) between green and red; see the comparison tests. */
export const TUNGSTEN_LOG_RATIO_UNCERTAINTY = 0.01

const COLD = TUNGSTEN_RESISTIVITY[0]![1]
const RATIO = monotoneCubic(TUNGSTEN_RESISTIVITY.map(([kelvin, rho]) => [kelvin, rho / COLD]))
const TOTAL = monotoneCubic(TUNGSTEN_TOTAL_EMISSIVITY)
/** Wavelengths at which colour temperature of filaments was matched (Forsythe & Worthing), nm. */
const [BLUE, RED] = TUNGSTEN_EMISSIVITY_ANCHORS

/**
 * Resistance of a tungsten wire at a temperature over its resistance at 300 K.
 *
 * @param temperatureK 250..3600 K; beyond, straight on with the end slope
 * @example tungstenResistanceRatio(2700) // 14.34
 * Source: see TUNGSTEN_RESISTIVITY.
 */
export const tungstenResistanceRatio = (temperatureK: number): number => RATIO.value(temperatureK)

/** Inverse of {@link tungstenResistanceRatio}: temperature in K from R/R(300 K). */
export const tungstenTemperatureFromResistanceRatio = (ratio: number): number =>
  RATIO.inverse(ratio)

/**
 * Spectral emissivity of bare tungsten.
 *
 * @param wavelengthNm 360..830 nm; beyond about 450..680 nm the line is continued, not measured
 * @param temperatureK 900..3600 K; beyond, straight on
 * @returns 0..1, never outside
 * Source: see TUNGSTEN_EMISSIVITY_ANCHORS.
 */
export function tungstenSpectralEmissivity(wavelengthNm: number, temperatureK: number): number {
  const at = (anchor: typeof BLUE | typeof RED) =>
    anchor.at2000K + anchor.perKelvin * (temperatureK - 2000)
  const share = (wavelengthNm - BLUE.wavelengthNm) / (RED.wavelengthNm - BLUE.wavelengthNm)
  return Math.min(1, Math.max(0.01, at(BLUE) + share * (at(RED) - at(BLUE))))
}

/**
 * Total hemispherical emissivity of bare tungsten, 300..3500 K (+-0.01; held beyond the ends).
 * Source: see TUNGSTEN_TOTAL_EMISSIVITY.
 */
export function tungstenTotalEmissivity(temperatureK: number): number {
  return TOTAL.value(Math.min(Math.max(temperatureK, TOTAL.range[0]), TOTAL.range[1]))
}

/** Brightness temperature of bare tungsten, K, at a wavelength (0.665 um: the old pyrometers'). */
export function tungstenBrightnessTemperature(trueK: number, wavelengthNm = 665): number {
  const emissivity = tungstenSpectralEmissivity(wavelengthNm, trueK)
  return brightnessTemperature(trueK, wavelengthNm * 1e-9, emissivity)
}

/**
 * Colour temperature of bare tungsten, K: the black body with the same ratio of radiances, by
 * default at 0.467 and 0.665 um.
 *
 * @example tungstenColourTemperature(2000) // 2033; K
 */
export function tungstenColourTemperature(
  trueK: number,
  shortNm: number = BLUE.wavelengthNm,
  longNm: number = RED.wavelengthNm,
): number {
  const logRatio = tungstenLogEmissivityRatio(shortNm, longNm, trueK)
  return colourTemperature(trueK, logRatio, shortNm, longNm, SECOND_RADIATION_CONSTANT)
}

/** ln(emissivity at the shorter wavelength / at the longer one) of bare tungsten. */
export function tungstenLogEmissivityRatio(
  shortNm: number,
  longNm: number,
  temperatureK: number,
): number {
  return Math.log(
    tungstenSpectralEmissivity(shortNm, temperatureK) /
      tungstenSpectralEmissivity(longNm, temperatureK),
  )
}

/** Inverse of {@link tungstenBrightnessTemperature}: true temperature, K. */
export function tungstenTrueFromBrightness(brightnessK: number, wavelengthNm = 665): number {
  return invertRising((trueK) => tungstenBrightnessTemperature(trueK, wavelengthNm), brightnessK)
}

/** Inverse of {@link tungstenColourTemperature}: true temperature, K. */
export function tungstenTrueFromColour(
  colourK: number,
  shortNm: number = BLUE.wavelengthNm,
  longNm: number = RED.wavelengthNm,
): number {
  return invertRising((trueK) => tungstenColourTemperature(trueK, shortNm, longNm), colourK)
}

/**
 * Standard uncertainty of the true temperature that follows from a colour temperature, K: through the
 * slope of {@link tungstenTrueFromColour} (JCGM 100, 5.1.2), about 0.95 at 2700 K.
 */
export function tungstenTrueUncertainty(colourK: number, standardUncertaintyK: number): number {
  const step = 1
  const slope =
    (tungstenTrueFromColour(colourK + step) - tungstenTrueFromColour(colourK - step)) / (2 * step)
  return slope * standardUncertaintyK
}

/** Secant steps from the answer itself: the two scales differ by a few per cent and run alike. */
function invertRising(scale: (trueK: number) => number, target: number): number {
  let a = target
  let fa = scale(a) - target
  let b = a - fa
  for (let i = 0; i < 40; i++) {
    const fb = scale(b) - target
    if (fb === fa || Math.abs(fb) <= 1e-10 * target) return b
    const next = b - (fb * (b - a)) / (fb - fa)
    a = b
    fa = fb
    b = next
  }
  return b
}
