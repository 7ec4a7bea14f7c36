import type { Triple } from '../numerics/matrix3.ts'
import type { SpectralEmissivity } from '../physics/emissivity.ts'
import { type Xy, xyzFromXy } from './chromaticity.ts'
import { planckXyz } from './xyz.ts'

/** First visible glow, K: 525 °C. Source: Draper 1847, Phil. Mag. 30, 345 (from memory). */
export const FIRST_GLOW_K = 798.15
/** Temperature to which luminance is related, K: 1000 °C. */
export const REFERENCE_GLOW_K = 1273.15

/** Luminance of a glow, cd/m². Without emissivity that of a black body. */
export function glowLuminance(temperatureK: number, emissivity?: SpectralEmissivity): number {
  return planckXyz(temperatureK, undefined, emissivity)[1]
}

/**
 * Luminance of the first visible glow, cd/m²: 0.0075, that of a black body at Draper's 525 °C.
 * Draper watched a platinum strip in a dark room; an eye fully adapted sees less, but colourless.
 */
export const FIRST_GLOW_LUMINANCE = glowLuminance(FIRST_GLOW_K)

/**
 * Smallest contrast that an eye sees against a lit ground: 2 %.
 * Source: Koschmieder 1924 (from memory), common practice in visual range.
 */
export const CONTRAST_THRESHOLD = 0.02

/**
 * Room light that a surface throws back, as absolute X, Y, Z (Y in cd/m²).
 *
 * @param illuminanceLux on the surface, lx, >= 0: 100 a dim corner, 500 a lit workshop,
 *   10000 and above outdoors in shade (common practice)
 * @param reflectance 0..1, diffuse; 1 - emissivity for an opaque surface (Kirchhoff)
 * @param light chromaticity of the room light
 * Source: Lambert's law, L = reflectance E / pi.
 */
export function roomLightXyz(illuminanceLux: number, reflectance: number, light: Xy): Triple {
  return xyzFromXy(light, (Math.max(illuminanceLux, 0) * Math.max(reflectance, 0)) / Math.PI)
}

/**
 * The luminance that a glow needs to be seen, cd/m²: Draper's in the dark, plus the contrast
 * threshold of whatever room light the surface throws back. A difference of colour may show a glow
 * slightly earlier; the model leaves that out.
 *
 * @param roomLuminance luminance of the surface by room light alone, cd/m², >= 0
 */
export function visibleLuminance(roomLuminance: number): number {
  return FIRST_GLOW_LUMINANCE + CONTRAST_THRESHOLD * Math.max(roomLuminance, 0)
}

const COLDEST_K = 600
const HOTTEST_K = 4000

/**
 * From what temperature a glow is seen over room light.
 *
 * @param roomLuminance see {@link visibleLuminance}
 * @returns K, to 0.01 K; Infinity where even 4000 K would not be seen
 */
export function visibleFromK(roomLuminance: number, emissivity?: SpectralEmissivity): number {
  const needed = visibleLuminance(roomLuminance)
  if (!(glowLuminance(HOTTEST_K, emissivity) >= needed)) return Number.POSITIVE_INFINITY
  let low = COLDEST_K
  let high = HOTTEST_K
  while (high - low > 0.01) {
    const middle = (low + high) / 2
    if (glowLuminance(middle, emissivity) < needed) low = middle
    else high = middle
  }
  return high
}
