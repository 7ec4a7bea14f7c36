import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import {
  TUNGSTEN_EMISSIVITY_RANGE_K,
  tungstenSpectralEmissivity,
  tungstenTrueFromColour,
} from '../../physics/tungsten.ts'
import { logSurfaceShape, slopePosition } from './surface.ts'
import type { SpectrumLamp } from './types.ts'

/** Colour temperatures of filament lamps that a response may rest on, K. */
export const LAMP_RANGE_K: readonly [number, number] = [1500, TUNGSTEN_EMISSIVITY_RANGE_K[1]]
/** Temperatures of anything else: from what a detector just sees to the hottest solid, K. */
export const REFERENCE_RANGE_K: readonly [number, number] = [700, 4000]

/**
 * ln of Planck's spectral radiance, up to a constant: -5 ln(wavelength) - ln(exp(c2 / (wavelength
 * T)) - 1). Finite where the radiance itself underflows.
 *
 * @param wavelengthNm nm
 * @param temperatureK K, > 0
 */
export function logPlanck(wavelengthNm: number, temperatureK: number): number {
  const x = (SECOND_RADIATION_CONSTANT * 1e9) / (wavelengthNm * temperatureK)
  return -5 * Math.log(wavelengthNm) - x - Math.log(-Math.expm1(-x))
}

/** Its temperature, as it is stated; null for a calibration, which has none. */
export function statedTemperatureK(lamp: SpectrumLamp): number | null {
  switch (lamp.emitter) {
    case 'tungsten':
    case 'black body':
      return lamp.colourTemperatureK
    case 'surface':
      return lamp.temperatureK
    case 'calibration':
      return null
  }
}

/** May a response rest on it? */
export function isPossibleLamp(lamp: SpectrumLamp): boolean {
  const kelvin = statedTemperatureK(lamp)
  if (lamp.emitter === 'calibration' || kelvin === null) return true
  const [low, high] = lamp.emitter === 'tungsten' ? LAMP_RANGE_K : REFERENCE_RANGE_K
  return kelvin >= low && kelvin <= high && lamp.standardUncertaintyK >= 0
}

/**
 * ln of the lamp's spectral radiance, up to a constant. For a filament: Planck at the true
 * temperature that belongs to the colour temperature, times tungsten's emissivity by wavelength.
 *
 * @param temperatureK instead of the stated one
 */
export function logLampRadiance(
  lamp: SpectrumLamp,
  temperatureK = statedTemperatureK(lamp),
): (wavelengthNm: number) => number {
  if (lamp.emitter === 'calibration' || temperatureK === null) return () => 0
  if (lamp.emitter === 'black body') return (nm) => logPlanck(nm, temperatureK)
  if (lamp.emitter === 'surface') {
    const shape = logSurfaceShape(lamp.surface)
    const slope = lamp.surface.lnGreenOverRed
    return (nm) => logPlanck(nm, temperatureK) + shape(nm, temperatureK) + slope * slopePosition(nm)
  }
  const trueK = tungstenTrueFromColour(temperatureK)
  return (nm) => logPlanck(nm, trueK) + Math.log(tungstenSpectralEmissivity(nm, trueK))
}

/**
 * What the lamp's temperature alone leaves open of one read with it, K standard uncertainty. In
 * Wien's limit an error of the lamp's 1/T is the same error of the glow's.
 */
export function leftOpenByLamp(lamp: SpectrumLamp, temperatureK: number): number {
  const stated = statedTemperatureK(lamp)
  if (lamp.emitter === 'calibration' || stated === null) return 0
  return lamp.standardUncertaintyK * (temperatureK / stated) ** 2
}

/** Change of {@link logLampRadiance} by one standard uncertainty of the lamp's temperature. */
export function lampSensitivity(lamp: SpectrumLamp): (wavelengthNm: number) => number {
  const stated = statedTemperatureK(lamp)
  if (lamp.emitter === 'calibration' || stated === null) return () => 0
  const u = lamp.standardUncertaintyK
  if (!(u > 0)) return () => 0
  const above = logLampRadiance(lamp, stated + u / 2)
  const below = logLampRadiance(lamp, stated - u / 2)
  return (nm) => above(nm) - below(nm)
}
