import { describe, expect, it } from 'vitest'
import type { StoredImage } from '../../src/light/image.ts'
import { measurePatch } from '../../src/light/patch.ts'
import { isThin, THIN_PIXELS } from '../../src/light/thin-glow.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import { decodeJpeg } from '../decode-jpeg.ts'
import { encodeJpeg } from '../making/encode-jpeg.ts'
import { barScene, picture } from './pictures.ts'

const [WIDTH, HEIGHT] = [96, 80]

/** Root mean square error of ln(G/R) of a bar through JPEG, over places on the 16-pixel grid. */
function barError(barPixels: number, quality: number, halvedColour: boolean): number {
  const errors: number[] = []
  for (let offset = 0; offset < 16; offset += 3) {
    const bar = { x: 8, y: 24 + offset, width: 80, height: barPixels }
    const image = picture(WIDTH, HEIGHT, barScene([0.5, 0.05, 0.01], bar), { seed: offset + 1 })
    const bytes = Uint8Array.from(image.codes, (v) => Math.round(v * 255))
    const { data } = decodeJpeg(encodeJpeg(bytes, WIDTH, HEIGHT, { quality, halvedColour }))
    const coded: StoredImage = { ...image, codes: new Float32Array(data).map((v) => v / 255) }
    const inset = barPixels >= 4 ? 1 : 0
    const { mean } = measurePatch(toLinearLight(coded), {
      shape: 'rectangle',
      x: 20,
      y: bar.y + inset,
      width: 56,
      height: barPixels - 2 * inset,
    }).colour
    errors.push(Math.log(mean[1] / mean[0]) - Math.log(0.1))
  }
  return Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length)
}

describe('a thin glow', () => {
  it('loses its colour where the file halves the resolution of colour', () => {
    // 0.0029 a kelvin at 1173 K: 0.5 is 170 K.
    expect(barError(3, 95, true)).toBeGreaterThan(0.3)
    expect(barError(3, 95, false)).toBeLessThan(0.03)
  })

  it('keeps it from the stated width on, to some 15 K', () => {
    for (const quality of [95, 80]) {
      expect(barError(THIN_PIXELS, quality, true)).toBeLessThan(0.055)
      expect(barError(24, quality, true)).toBeLessThan(0.025)
    }
  })

  it('is thin only in such files', () => {
    expect(isThin(8.9, true)).toBe(true)
    expect(isThin(9, true)).toBe(false)
    expect(isThin(3, false)).toBe(false)
  })
})
