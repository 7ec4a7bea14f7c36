import type { RgbSpace } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'
import { encodeRgba } from './encode-picture.ts'
import type { PhotoPixels } from './pixel-source.ts'

/** A photo whose codes lie in memory, upright: decoded by a library and not by the browser. */
export class ArrayPixels implements PhotoPixels {
  readonly width: number
  readonly height: number
  readonly space: RgbSpace
  #pixels: Uint32Array<ArrayBuffer>

  constructor(
    picture: {
      readonly width: number
      readonly height: number
      readonly rgba: Uint8ClampedArray<ArrayBuffer>
    },
    space: RgbSpace,
  ) {
    this.width = picture.width
    this.height = picture.height
    this.space = space
    this.#pixels = new Uint32Array(picture.rgba.buffer)
  }

  async read(box: PixelBox, step = 1): Promise<Uint8ClampedArray<ArrayBuffer>> {
    const columns = Math.ceil((box.right - box.left) / step)
    const rows = Math.ceil((box.bottom - box.top) / step)
    const picked = new Uint32Array(Math.max(columns * rows, 0))
    for (let row = 0, to = 0; row < rows; row++) {
      let from = (box.top + row * step) * this.width + box.left
      for (let column = 0; column < columns; column++, from += step)
        picked[to++] = this.#pixels[from]!
    }
    return new Uint8ClampedArray(picked.buffer)
  }

  /** Every n-th pixel: a picture for looking. */
  async picture(box: PixelBox, longest: number) {
    const [across, down] = [box.right - box.left, box.bottom - box.top]
    const step = Math.max(1, Math.ceil(Math.max(across, down) / longest))
    const [width, height] = [Math.ceil(across / step), Math.ceil(down / step)]
    const rgba = await this.read(box, step)
    return { blob: await encodeRgba(rgba, width, height, this.space), width, height }
  }

  close(): void {
    this.#pixels = new Uint32Array()
  }
}
