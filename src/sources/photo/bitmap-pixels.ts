import type { RgbSpace } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'
import type { Orientation } from '../files/exif-orientation.ts'
import { canvasCodes, FrameCodes } from './bitmap-codes.ts'
import { encodeRgba } from './encode-picture.ts'
import type { CodeMap, PhotoPixels } from './pixel-source.ts'
import { storedBox, turnPixels, uprightSize } from './turn.ts'

/** A decoded photo, upright, code by code in its own space. */
export class BitmapPixels implements PhotoPixels {
  readonly width: number
  readonly height: number
  readonly space: RgbSpace
  /** As the browser takes the bitmap; its codes are those of `space`. */
  readonly #drawn: RgbSpace
  readonly topCode = 255
  readonly toSpace: CodeMap | null
  readonly #bitmap: ImageBitmap
  readonly #orientation: Orientation
  readonly #frame: FrameCodes | null

  /**
   * @param bitmap owned from now on
   * @param space of the codes
   * @param orientation how the bitmap is to be turned
   * @param drawn the space that the browser takes it to be in: sRGB when the file did not say
   * @param toSpace carries the codes of a third space to those of `space`
   */
  constructor(
    bitmap: ImageBitmap,
    space: RgbSpace,
    orientation: Orientation = 1,
    drawn: RgbSpace = space,
    toSpace: CodeMap | null = null,
  ) {
    const { width, height } = uprightSize(bitmap, orientation)
    this.#bitmap = bitmap
    this.#orientation = orientation
    this.#frame = FrameCodes.of(bitmap, drawn)
    this.width = width
    this.height = height
    this.space = space
    this.#drawn = drawn
    this.toSpace = toSpace
  }

  async read(box: PixelBox, step = 1): Promise<Uint8ClampedArray<ArrayBuffer>> {
    if (box.right <= box.left || box.bottom <= box.top) return new Uint8ClampedArray()
    const stored = storedBox(onGrid(box, step), this.#bitmap, this.#orientation)
    const codes = this.#frame
      ? await this.#frame.read(stored, step)
      : await canvasCodes(this.#bitmap, stored, this.#drawn, step)
    const picked = {
      width: Math.ceil((stored.right - stored.left) / step),
      height: Math.ceil((stored.bottom - stored.top) / step),
    }
    return turnPixels(codes, picked, this.#orientation)
  }

  /** A box of the picture, made small, as a JPEG without metadata but its colour space. */
  async picture(box: PixelBox, longest: number) {
    const [across, down] = [box.right - box.left, box.bottom - box.top]
    const scale = Math.min(1, longest / Math.max(across, down))
    const width = Math.max(1, Math.round(across * scale))
    const height = Math.max(1, Math.round(down * scale))
    const stored = storedBox(box, this.#bitmap, this.#orientation)
    const size = uprightSize({ width, height }, this.#orientation)
    const small = await createImageBitmap(
      this.#bitmap,
      stored.left,
      stored.top,
      stored.right - stored.left,
      stored.bottom - stored.top,
      { resizeWidth: size.width, resizeHeight: size.height, resizeQuality: 'medium' },
    )
    const pixels = new BitmapPixels(small, this.space, this.#orientation, this.#drawn)
    const rgba = await pixels.read({ left: 0, top: 0, right: width, bottom: height })
    pixels.close()
    return {
      blob: await encodeRgba(rgba, width, height, this.toSpace ? this.#drawn : this.space),
      width,
      height,
    }
  }

  close(): void {
    this.#frame?.close()
    this.#bitmap.close()
  }
}

/** The box cut behind its last picked row and column: picked from either end, it is the same grid. */
function onGrid({ left, top, right, bottom }: PixelBox, step: number): PixelBox {
  const cut = (from: number, to: number) => from + step * Math.floor((to - from - 1) / step) + 1
  return { left, top, right: cut(left, right), bottom: cut(top, bottom) }
}
