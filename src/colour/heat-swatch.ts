import type { Triple } from '../numerics/matrix3.ts'
import type { SpectralEmissivity } from '../physics/emissivity.ts'
import { type Xy, xyFromXyz } from './chromaticity.ts'
import { glowLuminance, REFERENCE_GLOW_K, visibleLuminance } from './glow-visibility.ts'
import { type HeatView, heatViewXyz } from './heat-view.ts'
import { type ScreenColour, type ScreenSpace, screenColour } from './screen-gamut.ts'
import { planckXyz } from './xyz.ts'

/** How a strip of heat colours is computed. */
export interface HeatSwatchSettings {
  readonly view: HeatView
  readonly screen: ScreenSpace
  /** Surface; without it a black body, of which every grey body has the colour. */
  readonly emissivity?: SpectralEmissivity | undefined
  /** Room light thrown back by the surface, X, Y, Z with Y in cd/m²; without it a dark room. */
  readonly room?: Triple | undefined
}

/** The colour of a glow at one temperature. */
export interface HeatSwatch {
  readonly temperatureK: number
  /** Chromaticity of glow and room light together: what an eye is given, before any view. */
  readonly xy: Xy | undefined
  /** X, Y, Z in the view, relative to screen white, before gamut mapping. */
  readonly xyz: Triple
  /** The same within the screen's gamut. */
  readonly colour: ScreenColour
  /** Luminance of the glow alone, cd/m². */
  readonly luminance: number
  /** Luminance over that of the same surface at 1000 °C. */
  readonly relativeLuminance: number
  /** Bright enough to be seen over the room light. */
  readonly visible: boolean
}

/**
 * The colour of a glow: Planck's law times emissivity, through the 1931 observer (or the camera's
 * own locus), the view, and the screen's gamut.
 *
 * @param temperatureK K, true temperature of the surface
 * @example heatSwatch(1173.15, { view: { kind: 'hue' }, screen: 'srgb' }).colour.codes // [0.842, 0.272, 0.000]
 */
export function heatSwatch(temperatureK: number, settings: HeatSwatchSettings): HeatSwatch {
  return swatchMaker(settings)(temperatureK)
}

/** A strip of swatches, see {@link heatSwatch}. */
export function heatSwatches(
  temperaturesK: readonly number[],
  settings: HeatSwatchSettings,
): HeatSwatch[] {
  return temperaturesK.map(swatchMaker(settings))
}

/** One function for many temperatures: what they share is worked out once. */
export function swatchMaker({ view, screen, emissivity, room = [0, 0, 0] }: HeatSwatchSettings) {
  const reference = glowLuminance(REFERENCE_GLOW_K, emissivity)
  const needed = visibleLuminance(room[1])
  return (temperatureK: number): HeatSwatch => {
    const glow = planckXyz(temperatureK, undefined, emissivity)
    const xyz = heatViewXyz(view, temperatureK, glow, room)
    return {
      temperatureK,
      xy: xyFromXyz([glow[0] + room[0], glow[1] + room[1], glow[2] + room[2]]),
      xyz,
      colour: screenColour(xyz, screen),
      luminance: glow[1],
      relativeLuminance: glow[1] / reference,
      visible: glow[1] >= needed,
    }
  }
}
