import type { StoredImage } from '../image.ts'
import type { PixelBox } from '../region.ts'

/** A box of a picture as a picture of its own; the box lies inside. */
export function cropped(image: StoredImage, { left, top, right, bottom }: PixelBox): StoredImage {
  const [width, height] = [right - left, bottom - top]
  const codes = new Float32Array(3 * width * height)
  for (let y = 0; y < height; y++) {
    const from = 3 * ((top + y) * image.width + left)
    codes.set(image.codes.subarray(from, from + 3 * width), 3 * y * width)
  }
  return { width, height, space: image.space, codes }
}
