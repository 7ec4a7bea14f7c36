import type { RgbSpace, StoredImage } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'
import type { Orientation } from '../files/exif-orientation.ts'
import { codesFromBytes, type PixelSource } from './pixel-source.ts'
import { storedBox, turningMatrix, turnPixels, uprightSize } from './turn.ts'

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
  readonly #orientation: Orientation
  #context: OffscreenCanvasRenderingContext2D

  /**
   * @param bitmap owned from now on
   * @param orientation how the bitmap is to be turned
   * @throws TypeError where the browser has no canvas of that space: ask {@link readingContext} before
   */
  constructor(bitmap: ImageBitmap, space: RgbSpace, orientation: Orientation = 1) {
    const { width, height } = uprightSize(bitmap, orientation)
    this.#bitmap = bitmap
    this.#orientation = orientation
    this.width = width
    this.height = height
    this.space = space
    this.#context = contextFor(space, 1, 1)
  }

  /**
   * Goes by way of a bitmap of the box alone: drawing from the large one makes Chromium convert and
   * keep a copy of all of it (0.1 s and 48 MB at 12 megapixels; the box takes some milliseconds).
   */
  async read(box: PixelBox): Promise<Uint8ClampedArray> {
    if (box.right <= box.left || box.bottom <= box.top) return new Uint8ClampedArray()
    return this.#codes(await this.#part(box))
  }

  /**
   * True codes of one pixel in each block, as a small picture: for finding the glow and the clipping
   * levels. Rows and columns that fill no whole block at the edges are left out.
   */
  async sampled(block: number): Promise<StoredImage> {
    const width = Math.floor(this.width / block)
    const height = Math.floor(this.height / block)
    const box = { left: 0, top: 0, right: width * block, bottom: height * block }
    const sample = await this.#part(box, { width, height }, 'pixelated')
    return { width, height, space: this.space, codes: codesFromBytes(this.#codes(sample)) }
  }

  /** A box of the picture, made small, as a JPEG without metadata but its colour space. */
  async picture(box: PixelBox, longest: number) {
    const [across, down] = [box.right - box.left, box.bottom - box.top]
    const scale = Math.min(1, longest / Math.max(across, down))
    const width = Math.max(1, Math.round(across * scale))
    const height = Math.max(1, Math.round(down * scale))
    const small = await this.#part(box, { width, height }, 'medium')
    const canvas = new OffscreenCanvas(width, height)
    const context = canvas.getContext('2d', { colorSpace: this.space, alpha: false })
    context?.setTransform(...turningMatrix(small, this.#orientation))
    context?.drawImage(small, 0, 0)
    small.close()
    const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 })
    return { blob, width, height }
  }

  /** A box of the upright picture as a bitmap that is not turned yet; resized on request. */
  #part(
    box: PixelBox,
    size?: { width: number; height: number },
    resizeQuality: ResizeQuality = 'high',
  ): Promise<ImageBitmap> {
    const { left, top, right, bottom } = storedBox(box, this.#bitmap, this.#orientation)
    const stored = size && uprightSize(size, this.#orientation)
    const options = stored
      ? { resizeWidth: stored.width, resizeHeight: stored.height, resizeQuality }
      : {}
    return createImageBitmap(this.#bitmap, left, top, right - left, bottom - top, options)
  }

  /** Draws a part, reads its codes, turns them upright, and closes it. */
  #codes(part: ImageBitmap): Uint8ClampedArray {
    const size = { width: part.width, height: part.height }
    const { canvas } = this.#context
    if (canvas.width !== size.width || canvas.height !== size.height) {
      this.#context = contextFor(this.space, size.width, size.height)
    }
    this.#context.drawImage(part, 0, 0)
    part.close()
    const options = { colorSpace: this.space }
    const { data } = this.#context.getImageData(0, 0, size.width, size.height, options)
    return turnPixels(data, size, this.#orientation)
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
