import type { Triple } from '../numerics/matrix3.ts'
import type { Region, StoredImage } from './image.ts'
import { inRegion, pixelBox } from './region.ts'

/**
 * Mean stored codes (0..1) of a region, before decoding: where on the camera's tone curve the
 * region lies. Zeros for an empty region.
 */
export function storedLevels(image: StoredImage, region: Region): Triple {
  const box = pixelBox(region, image.width, image.height)
  let [r, g, b, n] = [0, 0, 0, 0]
  for (let y = box.top; y < box.bottom; y++) {
    for (let x = box.left; x < box.right; x++) {
      if (!inRegion(region, x, y)) continue
      const i = 3 * (y * image.width + x)
      r += image.codes[i]!
      g += image.codes[i + 1]!
      b += image.codes[i + 2]!
      n++
    }
  }
  return n > 0 ? [r / n, g / n, b / n] : [0, 0, 0]
}
