import type { RgbSpace, StoredImage } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'
import type { PixelPlace } from './light-source.ts'

/** Codes of a file, 0..1, to codes of {@link PixelSource.space}; written in place from `at` on. */
export type CodeMap = (codes: Float32Array, at: number) => void

/** A decoded picture of which parts can be read: codes of 8 or 16 bits in its own space. */
export interface PixelSource {
  readonly width: number
  readonly height: number
  readonly space: RgbSpace
  /**
   * RGBA codes of a box, row by row.
   *
   * @param step every how many pixels and rows one is taken, from the upper left; 1 if not given
   */
  read(box: PixelBox, step?: number): Promise<Uint8ClampedArray | Uint16Array>
  /** Highest code: 255 or 65535. */
  readonly topCode: number
  /** For files of a third space: what carries their codes over. Null: none is needed. */
  readonly toSpace: CodeMap | null
}

/** A picture of which small copies can be made too, owned until closed. */
export interface PhotoPixels extends PixelSource {
  /** A box of the picture, made small, as a JPEG without metadata but its colour space. */
  picture(
    box: PixelBox,
    longest: number,
  ): Promise<{ readonly blob: Blob; readonly width: number; readonly height: number }>
  close(): void
}

/** Part of a picture as stored codes. */
export interface StoredCrop extends PixelPlace {
  readonly image: StoredImage
}

const STRIP_PIXELS = 400_000

/** The smallest step at which a box has no more pixels than allowed. */
export function stepFor(box: PixelBox, mostPixels: number): number {
  const pixels = (step: number) =>
    Math.ceil((box.right - box.left) / step) * Math.ceil((box.bottom - box.top) / step)
  let step = 1
  while (pixels(step) > mostPixels) step++
  return step
}

/**
 * Reads a box, or every second, third, ... pixel of every second, third, ... row of it: true codes,
 * no means, so that clipping and noise stay what they are.
 */
export async function readCrop(
  source: PixelSource,
  box: PixelBox,
  step: number,
): Promise<StoredCrop> {
  const boxWidth = box.right - box.left
  const boxHeight = box.bottom - box.top
  const width = Math.ceil(boxWidth / step)
  const height = Math.ceil(boxHeight / step)
  const codes = new Float32Array(3 * width * height)
  const rowsAtOnce = step * Math.max(1, Math.floor(STRIP_PIXELS / Math.max(1, boxWidth) / step))
  let to = 0
  for (let top = box.top; top < box.bottom; top += rowsAtOnce) {
    const bottom = Math.min(top + rowsAtOnce, box.bottom)
    const pixels = await source.read({ left: box.left, right: box.right, top, bottom }, step)
    const { topCode, toSpace } = source
    for (let from = 0; from < pixels.length; from += 4, to += 3) {
      codes[to] = pixels[from]! / topCode
      codes[to + 1] = pixels[from + 1]! / topCode
      codes[to + 2] = pixels[from + 2]! / topCode
      toSpace?.(codes, to)
    }
  }
  const image: StoredImage = { width, height, space: source.space, codes }
  return { image, left: box.left, top: box.top, step }
}
