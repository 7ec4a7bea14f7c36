import { logEmissivityRatio, materialById } from '../../physics/materials.ts'
import { tungstenSpectralEmissivity } from '../../physics/tungsten.ts'
import type { SpectrumSurface } from './types.ts'

/** Middle of the green-to-red span over which slopes are stated, and its width, nm. */
const MIDDLE_NM = 600
const SPAN_NM = 100

/**
 * Where a wavelength lies on the slope: +1/2 at 550 nm, -1/2 at 650 nm, straight on beyond. An
 * ln(green / red) times this is the ln(emissivity) relative to 600 nm.
 */
export function slopePosition(wavelengthNm: number): number {
  return (MIDDLE_NM - wavelengthNm) / SPAN_NM
}

/**
 * How far a slope straight in 1/wavelength departs from one straight in wavelength, for the same
 * value between 550 and 650 nm and at 600 nm. The first looks exactly like another temperature, so
 * how a slope bows is what no spectrum can tell.
 */
export function slopeBow(wavelengthNm: number): number {
  const inverse =
    (1 / wavelengthNm - 1 / MIDDLE_NM) /
    (1 / (MIDDLE_NM - SPAN_NM / 2) - 1 / (MIDDLE_NM + SPAN_NM / 2))
  return inverse - slopePosition(wavelengthNm)
}

/**
 * Standard uncertainty of the share of {@link slopeBow} in an unknown slope: from none to all, each
 * as likely; root mean square of a value even in 0..1.
 */
export const BOW_SHARE = 1 / Math.sqrt(3)

/** ln of the shape of a surface's emissivity without its slope term. */
export function logSurfaceShape(
  surface: SpectrumSurface,
): (wavelengthNm: number, temperatureK: number) => number {
  if (surface.spectral === 'grey') return () => 0
  return (nm, kelvin) => Math.log(tungstenSpectralEmissivity(nm, kelvin))
}

/** A black or grey body, known to be one. */
export const KNOWN_GREY: SpectrumSurface = {
  spectral: 'grey',
  lnGreenOverRed: 0,
  standardUncertainty: 0,
}

/**
 * A material of the list as a spectrum sees it; undefined for an unknown id. Tungsten brings its
 * emissivity by wavelength and temperature, so only what is uncertain about it is left as slope.
 */
export function surfaceFromMaterial(materialId: string): SpectrumSurface | undefined {
  const material = materialById(materialId)
  if (material === undefined) return undefined
  const tungsten = material.id === 'tungsten-bare'
  const { value, standardUncertainty } = logEmissivityRatio(material, 2000)
  return {
    spectral: tungsten ? 'tungsten' : 'grey',
    lnGreenOverRed: tungsten ? 0 : value,
    standardUncertainty,
  }
}
