import type { Triple } from '../numerics/matrix3.ts'
import type { ClippingLevels } from './clipping-level.ts'
import type { Region, StoredImage } from './image.ts'
import { type GlowMeasurement, type GlowOptions, measureGlow } from './measure-glow.ts'
import { grown, type PixelBox, pixelBox } from './region.ts'
import { storedLevels } from './stored-levels.ts'
import { toLinearLight } from './tone-response.ts'

/** A glow measured in an ordinary photo. */
export interface PhotoMeasurement extends GlowMeasurement {
  /** Mean stored codes (0..1) of the region: its place on the camera's tone curve. */
  readonly storedLevels: Triple
}

/**
 * From stored codes to a measured glow.
 *
 * A crop will do, if it holds the {@link surroundings} of the region; then give the clipping levels
 * of the whole picture, in which a plateau shows better.
 */
export function measurePhoto(
  image: StoredImage,
  region: Region,
  options: GlowOptions & { readonly levels?: ClippingLevels },
): PhotoMeasurement {
  const light = toLinearLight(image, options.levels)
  return { ...measureGlow(light, region, options), storedLevels: storedLevels(image, region) }
}

/** What a measurement looks at around a region of a picture: enough for background and width. */
export function surroundings(region: Region, width: number, height: number): PixelBox {
  const margin = Math.max(64, 1.5 * Math.max(region.width, region.height))
  return pixelBox({ ...grown(region, margin), shape: 'rectangle' }, width, height)
}
