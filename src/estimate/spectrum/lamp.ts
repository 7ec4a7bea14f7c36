import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import {
  TUNGSTEN_EMISSIVITY_RANGE_K,
  tungstenSpectralEmissivity,
  tungstenTrueFromColour,
} from '../../physics/tungsten.ts'
import type { SpectrumLamp } from './types.ts'

/** Colour temperatures of lamps that a response may rest on, K. */
export const LAMP_RANGE_K: readonly [number, number] = [1500, TUNGSTEN_EMISSIVITY_RANGE_K[1]]

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

/**
 * ln of the lamp's spectral radiance, up to a constant. For a filament: Planck at the true
 * temperature that belongs to the colour temperature, times tungsten's emissivity by wavelength.
 */
export function logLampRadiance(
  lamp: SpectrumLamp,
  colourTemperatureK = lamp.colourTemperatureK,
): (wavelengthNm: number) => number {
  if (lamp.emitter === 'black body') return (nm) => logPlanck(nm, colourTemperatureK)
  const trueK = tungstenTrueFromColour(colourTemperatureK)
  return (nm) => logPlanck(nm, trueK) + Math.log(tungstenSpectralEmissivity(nm, trueK))
}

/**
 * What the lamp alone leaves open of a temperature read with it, K standard uncertainty. In Wien's
 * limit an error of the lamp's 1/T is the same error of the glow's.
 */
export function leftOpenByLamp(lamp: SpectrumLamp, temperatureK: number): number {
  return lamp.standardUncertaintyK * (temperatureK / lamp.colourTemperatureK) ** 2
}

/** Change of {@link logLampRadiance} by one standard uncertainty of the lamp's temperature. */
export function lampSensitivity(lamp: SpectrumLamp): (wavelengthNm: number) => number {
  const u = lamp.standardUncertaintyK
  if (!(u > 0)) return () => 0
  const above = logLampRadiance(lamp, lamp.colourTemperatureK + u / 2)
  const below = logLampRadiance(lamp, lamp.colourTemperatureK - u / 2)
  return (nm) => above(nm) - below(nm)
}
