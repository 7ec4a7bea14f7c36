import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import { ratioTemperature } from '../../physics/emissivity.ts'
import { type CorrectedSpectrum, correctedRadiance, type FittedRadiance } from './corrected.ts'
import { lampSensitivity } from './lamp.ts'
import { slopePosition } from './surface.ts'
import type { SpectrumLamp, SpectrumSurface } from './types.ts'

/** Half-width of the bands, nm. */
const HALF_WIDTH_NM = 5

export interface RatioReading {
  readonly shortNm: number
  readonly longNm: number
  /** As if grey between the two wavelengths, K. */
  readonly ratioTemperatureK: number
  /** Noise, lamp and stated slope of emissivity together, K. */
  readonly standardUncertaintyK: number
}

/**
 * Temperature from the quotient of two wavelengths of a corrected spectrum (two-colour pyrometry).
 *
 * @param surface its slope uncertainty joins the budget; no emissivity is corrected for
 * @returns null where a band is not inside the spectrum, holds no light, or gives no temperature
 */
export function ratioReading(
  spectrum: CorrectedSpectrum,
  fitted: FittedRadiance,
  wavelengthsNm: readonly [number, number],
  lamp: SpectrumLamp,
  surface: SpectrumSurface,
): RatioReading | null {
  const shortNm = Math.min(...wavelengthsNm)
  const longNm = Math.max(...wavelengthsNm)
  if (!(longNm - shortNm > 2 * HALF_WIDTH_NM)) return null
  const short = correctedRadiance(spectrum, fitted, shortNm, HALF_WIDTH_NM)
  const long = correctedRadiance(spectrum, fitted, longNm, HALF_WIDTH_NM)
  if (short === null || long === null || !(short.radiance > 0 && long.radiance > 0)) return null
  const kelvin = ratioTemperature(Math.log(short.radiance / long.radiance), shortNm, longNm)
  if (!(kelvin > 0 && Number.isFinite(kelvin))) return null
  const sensitivity = lampSensitivity(lamp)
  const logUncertainty = Math.hypot(
    short.sigma / short.radiance,
    long.sigma / long.radiance,
    sensitivity(shortNm) - sensitivity(longNm),
    surface.standardUncertainty * (slopePosition(shortNm) - slopePosition(longNm)),
  )
  // d ln(ratio) / d(1/T) in Wien's approximation.
  const perReciprocal = SECOND_RADIATION_CONSTANT * (1e9 / shortNm - 1e9 / longNm)
  return {
    shortNm,
    longNm,
    ratioTemperatureK: kelvin,
    standardUncertaintyK: (kelvin ** 2 * logUncertainty) / perReciprocal,
  }
}
