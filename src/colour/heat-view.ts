import type { Triple } from '../numerics/matrix3.ts'
import { xyFromXyz, xyzFromXy } from './chromaticity.ts'
import { FIRST_GLOW_LUMINANCE, glowLuminance } from './glow-visibility.ts'
import { luminanceFromLightness } from './lightness.ts'
import { xyzFromLinearP3 } from './rgb-spaces.ts'

/**
 * What a camera makes of a glow of a temperature: linear Display P3 ratios to red, from its locus,
 * with the surface's slope where there is one. Ratios may be negative outside the gamut.
 */
export type CameraLook = (temperatureK: number) => {
  readonly greenOverRed: number
  readonly blueOverRed: number
}

/** Three ways to put a glow on a screen that is a thousand times dimmer. */
export type HeatView =
  /** Chromaticity alone, all at one lightness. */
  | { readonly kind: 'hue' }
  /** Lightness follows the logarithm of luminance, as an eye adapted to a dark shop has it. */
  | { readonly kind: 'dark-shop' }
  /** What this camera stores when it is exposed for the glow. */
  | {
      readonly kind: 'camera'
      readonly look: CameraLook
      /** Linear level of the highest channel; {@link CAMERA_LEVEL} when left out. */
      readonly level?: number
    }

/** L* of every swatch of the hue view: deep reds of Display P3 reach 55, so 50 holds them all. */
export const HUE_LIGHTNESS = 50

/** The log scale of the dark-shop view: L* 0 at the first visible glow, 95 at a 3000 K black body. */
export const DARK_SHOP_TOP_K = 3000
export const DARK_SHOP_TOP_LIGHTNESS = 95
const TOP_LUMINANCE = glowLuminance(DARK_SHOP_TOP_K)
const DECADES = Math.log(TOP_LUMINANCE / FIRST_GLOW_LUMINANCE)

/**
 * Lightness L* of a luminance in the dark-shop view (Weber-Fechner: equal ratios look like equal
 * steps, between the first visible glow and a lamp filament).
 *
 * @param luminance cd/m²; at or below the first visible glow 0, above the top 100 at most
 */
export function darkShopLightness(luminance: number): number {
  if (!(luminance > FIRST_GLOW_LUMINANCE)) return 0
  const share = Math.log(luminance / FIRST_GLOW_LUMINANCE) / DECADES
  return Math.min(share * DARK_SHOP_TOP_LIGHTNESS, 100)
}

/** Linear level of the highest channel in a well exposed photo: just below the top, nothing clipped. */
export const CAMERA_LEVEL = 0.9

/**
 * A glow in a view, as XYZ relative to the screen's white at Y = 1, before any gamut mapping and
 * without adaptation of the white.
 *
 * @param glow X, Y, Z of the glow, Y in cd/m²
 * @param room X, Y, Z of the room light that the surface throws back, Y in cd/m². The camera is
 *   taken to be balanced on that light.
 * @returns black where there is no light
 */
export function heatViewXyz(
  view: HeatView,
  temperatureK: number,
  glow: Triple,
  room: Triple = [0, 0, 0],
): Triple {
  if (view.kind === 'camera')
    return cameraXyz(view.look(temperatureK), glow[1], room[1], view.level ?? CAMERA_LEVEL)
  const light: Triple = [glow[0] + room[0], glow[1] + room[1], glow[2] + room[2]]
  const xy = xyFromXyz(light)
  if (!xy) return [0, 0, 0]
  const lightness = view.kind === 'hue' ? HUE_LIGHTNESS : darkShopLightness(light[1])
  return xyzFromXy(xy, luminanceFromLightness(lightness))
}

/** Luminance of linear Display P3 channels. */
const p3Luminance = (rgb: Triple) => xyzFromLinearP3(rgb)[1]

function cameraXyz(
  ratios: ReturnType<CameraLook>,
  glowLuminance: number,
  room: number,
  level: number,
): Triple {
  // A file has no negative codes: the floor is part of what the camera stores.
  const glow: Triple = [1, Math.max(ratios.greenOverRed, 0), Math.max(ratios.blueOverRed, 0)]
  const scale = glowLuminance / p3Luminance(glow)
  const sum: Triple = [scale + room, scale * glow[1] + room, scale * glow[2] + room]
  const top = Math.max(...sum)
  if (!(top > 0)) return [0, 0, 0]
  const exposure = level / top
  return xyzFromLinearP3([sum[0] * exposure, sum[1] * exposure, sum[2] * exposure])
}
