import { differenceCiede2000, modeLab65, modeXyz65, useMode } from 'culori/fn'
import type { Triple } from '../numerics/matrix3.ts'
import { type Xy, xyzFromXy } from './chromaticity.ts'
import { HUE_LIGHTNESS } from './heat-view.ts'
import { luminanceFromLightness } from './lightness.ts'

useMode(modeXyz65)
useMode(modeLab65)
const ciede2000 = differenceCiede2000()
const colour = ([x, y, z]: Triple) => ({ mode: 'xyz65' as const, x, y, z })

/**
 * CIEDE2000 colour difference of two colours relative to a D65 white at Y = 1.
 *
 * About 1 is the smallest difference that a trained eye sees on large patches side by side.
 * Source: ISO/CIE 11664-6.
 */
export function colourDifference(a: Triple, b: Triple): number {
  return ciede2000(colour(a), colour(b))
}

/**
 * A measured chromaticity at the lightness of the hue view: a photo's brightness is a matter of its
 * exposure, so only the colour is compared.
 */
export function chromaticityAtHueLightness(xy: Xy): Triple {
  return xyzFromXy(xy, luminanceFromLightness(HUE_LIGHTNESS))
}

/**
 * The swatch nearest to a colour by CIEDE2000.
 *
 * @param xyz relative to white, see {@link chromaticityAtHueLightness}
 * @param swatches colours before gamut mapping; the first of equals wins
 * @returns undefined for an empty strip or a colour that is not finite
 */
export function nearestSwatch(
  xyz: Triple,
  swatches: readonly { readonly xyz: Triple }[],
): { readonly index: number; readonly difference: number } | undefined {
  let index = -1
  let difference = Number.POSITIVE_INFINITY
  for (let i = 0; i < swatches.length; i++) {
    const candidate = colourDifference(xyz, swatches[i]!.xyz)
    if (candidate < difference) {
      difference = candidate
      index = i
    }
  }
  return index < 0 ? undefined : { index, difference }
}
