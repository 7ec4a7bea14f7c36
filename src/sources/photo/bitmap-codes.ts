import type { RgbSpace } from '../../light/image.ts'
import type { PixelBox } from '../../light/region.ts'

/** Primaries as a frame names them (WebCodecs: H.273 codes 1 and 12). */
const PRIMARIES: Record<RgbSpace, string> = { srgb: 'bt709', 'display-p3': 'smpte432' }

/** Parts of a pixel as one number; every engine that runs a browser stores the low byte first. */
const OPAQUE = 0xff000000
const GREEN_ALPHA = 0xff00ff00

/**
 * Firefox 153 copies a whole frame for every part that is asked of it, 0.2 s for each row of 12
 * megapixels: there it is asked for once. Not by canvas instead: private windows alter what that says.
 */
const COPIES_WHOLE_FRAMES = navigator.userAgent.includes('Firefox/')

/**
 * The codes of a bitmap as its decoder left them, by way of a video frame on the same memory: no
 * canvas, no conversion, no copy but that of the box itself. In Chromium 156 all of 12 megapixels
 * take 15 ms, against 150 ms and hundreds of megabytes of cached copies by canvas.
 */
export class FrameCodes {
  readonly #frame: VideoFrame
  readonly #blueFirst: boolean
  #whole: Promise<Uint32Array<ArrayBuffer>> | null = null

  private constructor(frame: VideoFrame, blueFirst: boolean) {
    this.#frame = frame
    this.#blueFirst = blueFirst
  }

  /** Null where the browser has no frames, or the bitmap's codes are not of that space and 8 bits. */
  static of(bitmap: ImageBitmap, space: RgbSpace): FrameCodes | null {
    if (typeof VideoFrame === 'undefined') return null
    const frame = new VideoFrame(bitmap, { timestamp: 0 })
    const { format, colorSpace, codedWidth, codedHeight } = frame
    const blueFirst = format === 'BGRX' || format === 'BGRA'
    const fits =
      (blueFirst || format === 'RGBX' || format === 'RGBA') &&
      codedWidth === bitmap.width &&
      codedHeight === bitmap.height &&
      colorSpace.primaries === PRIMARIES[space] &&
      colorSpace.transfer === 'iec61966-2-1'
    if (fits) return new FrameCodes(frame, blueFirst)
    frame.close()
    return null
  }

  /** RGBA codes of every `step`-th pixel of every `step`-th row of a box, opaque. */
  async read(box: PixelBox, step: number): Promise<Uint8ClampedArray<ArrayBuffer>> {
    const width = box.right - box.left
    const height = box.bottom - box.top
    const picked =
      step === 1
        ? await this.#copy(box, new Uint32Array(width * height))
        : new Uint32Array(Math.ceil(width / step) * Math.ceil(height / step))
    if (step > 1) await this.#pick(box, step, picked)
    for (let i = 0; i < picked.length; i++) {
      const pixel = picked[i]! | OPAQUE
      picked[i] = this.#blueFirst
        ? (pixel & GREEN_ALPHA) | ((pixel & 0xff) << 16) | ((pixel >>> 16) & 0xff)
        : pixel
    }
    return new Uint8ClampedArray(picked.buffer)
  }

  close(): void {
    this.#frame.close()
    this.#whole = null
  }

  async #copy(box: PixelBox, into: Uint32Array<ArrayBuffer>) {
    if (!COPIES_WHOLE_FRAMES) return this.#fromFrame(box, into)
    const { codedWidth: right, codedHeight: bottom } = this.#frame
    const all = { left: 0, top: 0, right, bottom }
    this.#whole ??= this.#fromFrame(all, new Uint32Array(right * bottom)).catch((error) => {
      this.#whole = null
      throw error
    })
    const whole = await this.#whole
    const width = box.right - box.left
    for (let y = box.top, to = 0; y < box.bottom; y++, to += width) {
      const from = y * right + box.left
      into.set(whole.subarray(from, from + width), to)
    }
    return into
  }

  async #fromFrame({ left, top, right, bottom }: PixelBox, into: Uint32Array<ArrayBuffer>) {
    const width = right - left
    const rect = { x: left, y: top, width, height: bottom - top }
    await this.#frame.copyTo(into, { rect, layout: [{ offset: 0, stride: 4 * width }] })
    return into
  }

  /** Row by row: of the rows between, nothing is copied. */
  async #pick(box: PixelBox, step: number, picked: Uint32Array): Promise<void> {
    const width = box.right - box.left
    const row = new Uint32Array(width)
    for (let top = box.top, to = 0; top < box.bottom; top += step) {
      await this.#copy({ ...box, top, bottom: top + 1 }, row)
      for (let from = 0; from < width; from += step, to++) picked[to] = row[from]!
    }
  }
}

/** Whether the browser has a canvas of a given space. */
export function hasCanvasIn(space: RgbSpace): boolean {
  return contextIn(space, 1, 1) !== null
}

/**
 * The codes of every `step`-th pixel of every `step`-th row of a box by way of a canvas of the photo's own space, where drawing changes no code:
 * clipping and tone curve act in that space. Measured in Chromium 156: P3 photo on a P3 canvas and
 * sRGB photo on an sRGB canvas come back exactly; an sRGB photo on a P3 canvas is rounded to 8 bits
 * there (float16 canvas included) and comes back up to 9 codes off in the dark channels; a P3 photo
 * on an sRGB canvas is clipped.
 *
 * @throws TypeError where the browser has no canvas of that space: ask {@link hasCanvasIn} before
 */
export async function canvasCodes(
  bitmap: ImageBitmap,
  { left, top, right, bottom }: PixelBox,
  space: RgbSpace,
  step: number,
): Promise<Uint8ClampedArray<ArrayBuffer>> {
  const width = right - left
  const height = bottom - top
  const context = contextIn(space, width, height)
  if (context === null) throw new TypeError(`no ${space} canvas`)
  // By way of the part alone: drawing from a large bitmap makes Chromium keep a copy of all of it.
  const part = await createImageBitmap(bitmap, left, top, width, height)
  context.drawImage(part, 0, 0)
  part.close()
  const { data } = context.getImageData(0, 0, width, height, { colorSpace: space })
  const pixels = new Uint32Array(data.buffer as ArrayBuffer)
  return new Uint8ClampedArray(everyNth(pixels, width, step).buffer)
}

/** Every `step`-th pixel of every `step`-th row; the same array where that is all of them. */
function everyNth(
  pixels: Uint32Array<ArrayBuffer>,
  width: number,
  step: number,
): Uint32Array<ArrayBuffer> {
  if (step === 1) return pixels
  const columns = Math.ceil(width / step)
  const rows = Math.ceil(pixels.length / width / step)
  const picked = new Uint32Array(columns * rows)
  for (let row = 0, to = 0; row < rows; row++) {
    let from = row * step * width
    for (let column = 0; column < columns; column++, to++, from += step) picked[to] = pixels[from]!
  }
  return picked
}

function contextIn(space: RgbSpace, width: number, height: number) {
  const context = new OffscreenCanvas(width, height).getContext('2d', {
    colorSpace: space,
    alpha: false,
    willReadFrequently: true,
  })
  // Browsers that know no spaces leave the attribute out, and their canvas is sRGB.
  const given = context?.getImageData(0, 0, 1, 1).colorSpace ?? 'srgb'
  return given === space ? context : null
}
