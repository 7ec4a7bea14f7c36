import type { RgbSpace, StoredImage } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'
import type { Place } from './light-source.ts'

/** A decoded picture of which parts can be read: 8-bit codes in its own space. */
export interface PixelSource {
  readonly width: number
  readonly height: number
  readonly space: RgbSpace
  /** RGBA codes of a box, row by row. */
  read(box: PixelBox): Promise<Uint8ClampedArray>
}

/** Part of a picture as stored codes. */
export interface StoredCrop extends Place {
  readonly image: StoredImage
}

const STRIP_PIXELS = 1_200_000

/** RGBA codes of 8 bits -> RGB codes 0..1. */
export function codesFromBytes(rgba: Uint8ClampedArray): Float32Array {
  const codes = new Float32Array((rgba.length / 4) * 3)
  for (let from = 0, to = 0; from < rgba.length; from += 4, to += 3) {
    codes[to] = rgba[from]! / 255
    codes[to + 1] = rgba[from + 1]! / 255
    codes[to + 2] = rgba[from + 2]! / 255
  }
  return codes
}

/**
 * Reads a box at full resolution, or where it has more pixels than allowed, every third, fifth, ...
 * pixel of every third, fifth, ... row: true codes, no means, so that clipping and noise stay what
 * they are. An odd step walks through all places of a JPEG's blocks.
 */
export async function readCrop(
  source: PixelSource,
  box: PixelBox,
  mostPixels: number,
): Promise<StoredCrop> {
  const boxWidth = box.right - box.left
  const boxHeight = box.bottom - box.top
  let step = 1
  while (Math.ceil(boxWidth / step) * Math.ceil(boxHeight / step) > mostPixels) step += 2
  const width = Math.ceil(boxWidth / step)
  const height = Math.ceil(boxHeight / step)
  const codes = new Float32Array(3 * width * height)
  const rowsAtOnce = step * Math.max(1, Math.floor(STRIP_PIXELS / Math.max(1, boxWidth) / step))
  let to = 0
  for (let top = box.top; top < box.bottom; top += rowsAtOnce) {
    const bottom = Math.min(top + rowsAtOnce, box.bottom)
    const pixels = await source.read({ left: box.left, right: box.right, top, bottom })
    for (let y = 0; y < bottom - top; y += step) {
      for (let x = 0; x < boxWidth; x += step, to += 3) {
        const from = 4 * (y * boxWidth + x)
        codes[to] = pixels[from]! / 255
        codes[to + 1] = pixels[from + 1]! / 255
        codes[to + 2] = pixels[from + 2]! / 255
      }
    }
  }
  const image: StoredImage = { width, height, space: source.space, codes }
  return { image, left: box.left, top: box.top, step }
}
