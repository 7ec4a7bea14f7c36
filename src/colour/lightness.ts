/** 24/116 cubed and (116/24 slope): where CIE 1976 lightness turns from a line into a cube root. */
const KNEE = (6 / 29) ** 3
const SLOPE = (29 / 3) ** 3

/**
 * CIE 1976 lightness L*.
 *
 * @param relativeLuminance Y / Y of white; below 0 counts as 0
 * @returns 0..100 for 0..1, above 100 beyond white
 * Source: ISO/CIE 11664-4, eq. for L*.
 */
export function lightnessFromLuminance(relativeLuminance: number): number {
  const y = Math.max(relativeLuminance, 0)
  return y <= KNEE ? SLOPE * y : 116 * Math.cbrt(y) - 16
}

/** Relative luminance of a lightness L*: the inverse of {@link lightnessFromLuminance}. */
export function luminanceFromLightness(lightness: number): number {
  const l = Math.max(lightness, 0)
  return l <= SLOPE * KNEE ? l / SLOPE : ((l + 16) / 116) ** 3
}
