import type { PixelBox } from '../../light/region.ts'
import type { Orientation } from '../files/exif-orientation.ts'

interface Size {
  readonly width: number
  readonly height: number
}

/**
 * Turning between the stored picture and the upright one, by EXIF orientation (Exif 2.32, table 4:
 * where the stored first row and first column come to lie). Done here because browsers are
 * inconsistent: Chromium 156 turns a bitmap when it is drawn, but cuts a part of it at the wrong
 * end, and encodes it unturned.
 */
export function uprightSize({ width, height }: Size, orientation: Orientation): Size {
  return orientation < 5 ? { width, height } : { width: height, height: width }
}

/** Where the stored point (x, y) lies upright, as [a, b, c, d, e, f]: x' = ax + cy + e, y' = bx + dy + f. */
export function turningMatrix(
  { width, height }: Size,
  orientation: Orientation,
): readonly [number, number, number, number, number, number] {
  switch (orientation) {
    case 1:
      return [1, 0, 0, 1, 0, 0]
    case 2:
      return [-1, 0, 0, 1, width, 0]
    case 3:
      return [-1, 0, 0, -1, width, height]
    case 4:
      return [1, 0, 0, -1, 0, height]
    case 5:
      return [0, 1, 1, 0, 0, 0]
    case 6:
      return [0, 1, -1, 0, height, 0]
    case 7:
      return [0, -1, -1, 0, height, width]
    case 8:
      return [0, -1, 1, 0, 0, width]
  }
}

/** The part of the stored picture that a box of the upright one is. */
export function storedBox(box: PixelBox, stored: Size, orientation: Orientation): PixelBox {
  const [a, b, c, d, e, f] = turningMatrix(stored, orientation)
  // The linear part is a signed permutation: its inverse is its transpose.
  const back = (x: number, y: number) => [a * (x - e) + b * (y - f), c * (x - e) + d * (y - f)]
  const [x1, y1] = back(box.left, box.top) as [number, number]
  const [x2, y2] = back(box.right, box.bottom) as [number, number]
  return {
    left: Math.min(x1, x2),
    right: Math.max(x1, x2),
    top: Math.min(y1, y2),
    bottom: Math.max(y1, y2),
  }
}

/**
 * Stored pixels, turned upright.
 *
 * @param pixels RGBA, row by row, of a stored box of the given size
 */
export function turnPixels(
  pixels: Uint8ClampedArray<ArrayBuffer>,
  stored: Size,
  orientation: Orientation,
): Uint8ClampedArray<ArrayBuffer> {
  if (orientation === 1) return pixels
  const upright = uprightSize(stored, orientation)
  const [a, b, c, d, e, f] = turningMatrix(stored, orientation)
  const from = new Uint32Array(pixels.buffer, pixels.byteOffset, pixels.length / 4)
  const to = new Uint32Array(from.length)
  for (let y = 0, i = 0; y < stored.height; y++) {
    for (let x = 0; x < stored.width; x++, i++) {
      // Pixel centres lie at one half.
      const column = a * (x + 0.5) + c * (y + 0.5) + e - 0.5
      const row = b * (x + 0.5) + d * (y + 0.5) + f - 0.5
      to[row * upright.width + column] = from[i]!
    }
  }
  return new Uint8ClampedArray(to.buffer)
}
