import type { RgbSpace } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'
import type { Orientation } from '../files/exif-orientation.ts'
import { encodeImage } from './encode-picture.ts'
import { type CodeMap, type PhotoPixels, readCrop } from './pixel-source.ts'
import { turningMatrix, uprightSize } from './turn.ts'

/** A picture that a library has decoded: three or four codes a pixel, row by row. */
export interface DecodedArray {
  readonly width: number
  readonly height: number
  readonly channels: 3 | 4
  readonly codes: Uint8Array | Uint8ClampedArray | Uint16Array
}

/** A photo whose codes lie in memory, of 8 or 16 bits. */
export class ArrayPixels implements PhotoPixels {
  readonly width: number
  readonly height: number
  readonly space: RgbSpace
  readonly topCode: number
  readonly toSpace: CodeMap | null
  readonly #orientation: Orientation
  #picture: DecodedArray

  constructor(
    picture: DecodedArray,
    space: RgbSpace,
    orientation: Orientation = 1,
    toSpace: CodeMap | null = null,
  ) {
    const { width, height } = uprightSize(picture, orientation)
    this.width = width
    this.height = height
    this.space = space
    this.topCode = picture.codes instanceof Uint16Array ? 65535 : 255
    this.toSpace = toSpace
    this.#orientation = orientation
    this.#picture = picture
  }

  async read(box: PixelBox, step = 1): Promise<Uint8ClampedArray | Uint16Array> {
    const columns = Math.max(Math.ceil((box.right - box.left) / step), 0)
    const rows = Math.max(Math.ceil((box.bottom - box.top) / step), 0)
    const { codes, channels, width } = this.#picture
    const length = 4 * columns * rows
    const picked = this.topCode > 255 ? new Uint16Array(length) : new Uint8ClampedArray(length)
    // Back from upright to stored; pixel centres lie at one half.
    const [a, b, c, d, e, f] = turningMatrix(this.#picture, this.#orientation)
    for (let row = 0, to = 0; row < rows; row++) {
      const v = box.top + row * step + 0.5 - f
      for (let column = 0; column < columns; column++, to += 4) {
        const u = box.left + column * step + 0.5 - e
        const from = channels * ((c * u + d * v - 0.5) * width + a * u + b * v - 0.5)
        picked[to] = codes[from]!
        picked[to + 1] = codes[from + 1]!
        picked[to + 2] = codes[from + 2]!
        picked[to + 3] = this.topCode
      }
    }
    return picked
  }

  /** Every n-th pixel: a picture for looking. */
  async picture(box: PixelBox, longest: number) {
    const side = Math.max(box.right - box.left, box.bottom - box.top)
    const { image } = await readCrop(this, box, Math.max(1, Math.ceil(side / longest)))
    return { blob: await encodeImage(image), width: image.width, height: image.height }
  }

  close(): void {
    this.#picture = { width: 0, height: 0, channels: 4, codes: new Uint8Array() }
  }
}
