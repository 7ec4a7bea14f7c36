import type { RgbSpace, StoredImage } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'
import { codesFromBytes, type PixelSource } from './pixel-source.ts'

/** A canvas context of a given space that is read from, or null where the browser has none. */
export function readingContext(space: RgbSpace, width: number, height: number) {
  const context = new OffscreenCanvas(width, height).getContext('2d', {
    colorSpace: space,
    alpha: false,
    willReadFrequently: true,
  })
  // Browsers that know no spaces leave the attribute out, and their canvas is sRGB.
  const given = context?.getImageData(0, 0, 1, 1).colorSpace ?? 'srgb'
  return given === space ? context : null
}

/**
 * The pixels of a bitmap through a canvas of the photo's own space, where drawing changes no code:
 * clipping and tone curve act in that space. Measured in Chromium 156: P3 photo on a P3 canvas and
 * sRGB photo on an sRGB canvas come back exactly; an sRGB photo on a P3 canvas is rounded to 8 bits
 * there (float16 canvas included) and comes back up to 9 codes off in the dark channels; a P3 photo
 * on an sRGB canvas is clipped.
 */
export class BitmapPixels implements PixelSource {
  readonly width: number
  readonly height: number
  readonly space: RgbSpace
  readonly #bitmap: ImageBitmap
  #context: OffscreenCanvasRenderingContext2D

  /** @throws TypeError where the browser has no canvas of that space: ask {@link readingContext} before */
  constructor(bitmap: ImageBitmap, space: RgbSpace) {
    this.#bitmap = bitmap
    this.width = bitmap.width
    this.height = bitmap.height
    this.space = space
    this.#context = contextFor(space, 1, 1)
  }

  /**
   * Goes by way of a bitmap of the box alone: drawing from the large one makes Chromium convert and
   * keep a copy of all of it (0.1 s and 48 MB at 12 megapixels; the box takes some milliseconds).
   */
  async read({ left, top, right, bottom }: PixelBox): Promise<Uint8ClampedArray> {
    const width = right - left
    const height = bottom - top
    if (width <= 0 || height <= 0) return new Uint8ClampedArray()
    return this.#codes(await createImageBitmap(this.#bitmap, left, top, width, height))
  }

  /**
   * True codes of one pixel in each block, as a small picture: for finding the glow and the clipping
   * levels. Rows and columns that fill no whole block at the lower and right edge are left out.
   */
  async sampled(block: number): Promise<StoredImage> {
    const width = Math.floor(this.width / block)
    const height = Math.floor(this.height / block)
    const sample = await createImageBitmap(this.#bitmap, 0, 0, width * block, height * block, {
      resizeWidth: width,
      resizeHeight: height,
      resizeQuality: 'pixelated',
    })
    return { width, height, space: this.space, codes: codesFromBytes(this.#codes(sample)) }
  }

  /** Draws a bitmap, reads its codes and closes it. */
  #codes(bitmap: ImageBitmap): Uint8ClampedArray {
    const { width, height } = bitmap
    const { canvas } = this.#context
    if (canvas.width !== width || canvas.height !== height) {
      this.#context = contextFor(this.space, width, height)
    }
    this.#context.drawImage(bitmap, 0, 0)
    bitmap.close()
    return this.#context.getImageData(0, 0, width, height, { colorSpace: this.space }).data
  }

  /** A box of the picture, made small, as a JPEG without metadata but its colour space. */
  async picture({ left, top, right, bottom }: PixelBox, longest: number) {
    const scale = Math.min(1, longest / Math.max(right - left, bottom - top))
    const width = Math.max(1, Math.round((right - left) * scale))
    const height = Math.max(1, Math.round((bottom - top) * scale))
    const small = await createImageBitmap(this.#bitmap, left, top, right - left, bottom - top, {
      resizeWidth: width,
      resizeHeight: height,
      resizeQuality: 'medium',
    })
    const canvas = new OffscreenCanvas(width, height)
    canvas.getContext('bitmaprenderer')?.transferFromImageBitmap(small)
    const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 })
    return { blob, width, height }
  }

  close(): void {
    this.#bitmap.close()
  }
}

function contextFor(space: RgbSpace, width: number, height: number) {
  const context = readingContext(space, width, height)
  if (context === null) throw new TypeError(`no ${space} canvas`)
  return context
}

/** Marks as a PNG with transparency. */
export function encodeMarks(rgba: Uint8ClampedArray<ArrayBuffer>, width: number, height: number) {
  const canvas = new OffscreenCanvas(width, height)
  canvas.getContext('2d')?.putImageData(new ImageData(rgba, width, height), 0, 0)
  return canvas.convertToBlob({ type: 'image/png' })
}
