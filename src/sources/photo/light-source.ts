import { type ClippingLevels, clippingLevels } from '../../light/clipping-level.ts'
import { applyToneCurve, type ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { LightImage, Region, StoredImage } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'
import { storedLevels } from '../../light/stored-levels.ts'
import { toLinearLight } from '../../light/tone-response.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import { type PixelSource, readCrop, stepFor } from './pixel-source.ts'

/** Where a crop lies in its picture. */
export interface PixelPlace {
  /** Pixel of the picture that the crop's first pixel is. */
  readonly left: number
  readonly top: number
  /** Every how many pixels of the picture there is one of the crop. */
  readonly step: number
}

/** Part of a picture in linear light. */
export interface LightCrop extends PixelPlace {
  readonly light: LightImage
  /** Mean level of a region of the crop as the file stores it, 0..1. */
  levelsIn(region: Region): Triple
}

/** A picture of which parts can be had in linear light: an ordinary photo, or a raw one. */
export interface LightSource {
  readonly width: number
  readonly height: number
  crop(box: PixelBox, mostPixels: number): Promise<LightCrop>
}

/**
 * An ordinary photo, decoded with the standard transfer function, or with the tone curve that a
 * sweep has recovered for its camera.
 */
export function photoLight(
  source: PixelSource,
  levels: ClippingLevels,
  curve: ToneCurve | null = null,
): LightSource {
  return {
    width: source.width,
    height: source.height,
    async crop(box, mostPixels) {
      const step = stepFor(box, mostPixels)
      const { image, left, top } = await readCrop(source, box, step)
      const own = lowerLevels(levels, image)
      const light = curve ? applyToneCurve(curve, image, own) : toLinearLight(image, own)
      return { light, left, top, step, levelsIn: (region) => storedLevels(image, region) }
    },
  }
}

/** A plateau may show in the whole picture or, where the glow is small, only in the crop. */
function lowerLevels(whole: ClippingLevels, crop: StoredImage): ClippingLevels {
  const own = clippingLevels(crop)
  const code = (c: 0 | 1 | 2) => Math.min(whole.codes[c], own.codes[c])
  const plateau = (c: 0 | 1 | 2) => whole.plateau[c] || own.plateau[c]
  return { codes: [code(0), code(1), code(2)], plateau: [plateau(0), plateau(1), plateau(2)] }
}
