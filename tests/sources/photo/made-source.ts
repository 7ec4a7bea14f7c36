import type { RgbSpace } from '../../../src/light/image.ts'
import type { PixelSource } from '../../../src/sources/photo/pixel-source.ts'

/** A picture from a formula, for what reads pixels without a browser. */
export function madeSource(
  width: number,
  height: number,
  pixel: (x: number, y: number) => readonly number[],
  space: RgbSpace = 'display-p3',
): PixelSource {
  return {
    width,
    height,
    space,
    topCode: 255,
    toSpace: null,
    async read({ left, top, right, bottom }, step = 1) {
      const columns = Math.ceil((right - left) / step)
      const pixels = new Uint8ClampedArray(4 * columns * Math.ceil((bottom - top) / step))
      let i = 0
      for (let y = top; y < bottom; y += step) {
        for (let x = left; x < right; x += step, i += 4) pixels.set([...pixel(x, y), 255], i)
      }
      return pixels
    },
  }
}
