import { expect, test } from 'vitest'
import { decodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import type { LightImage } from '../../../src/light/image.ts'
import { stepError } from '../../../src/light/map/step-error.ts'
import { normal } from '../pictures.ts'

const [COLUMNS, ROWS, SIDE] = [24, 12, 4]
const STEPS = { luma: 2, chroma: 2 }

/** Light of a picture of Y, Cb, Cr in whole codes, decoded as ITU-T T.871 has it. */
function lightOf(
  planes: (x: number, y: number) => readonly [luma: number, blue: number, red: number],
): LightImage {
  const [width, height] = [COLUMNS * SIDE, ROWS * SIDE]
  const rgb = new Float32Array(3 * width * height)
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i += 3) {
      const [l, b, r] = planes(x, y).map(Math.round) as [number, number, number]
      rgb[i] = decodeTransfer((l + 1.402 * r) / 255)
      rgb[i + 1] = decodeTransfer((l - 0.344136 * b - 0.714136 * r) / 255)
      rgb[i + 2] = decodeTransfer((l + 1.772 * b) / 255)
    }
  return { width, height, channels: 'display-p3', rgb, flags: new Uint8Array(width * height) }
}
const errors = (light: LightImage) =>
  stepError(light, STEPS, { side: SIDE, columns: COLUMNS, rows: ROWS, step: 1 })
const median = (of: Float32Array) => of.filter(Number.isFinite).sort()[COLUMNS * ROWS * 0.5]!

test('a slow course of colour, shown in whole codes, errs as much as is stated', () => {
  // Cr rises by two codes over the picture; Y and Cb stand still.
  const cr = (x: number) => 80 + (2 * x) / (COLUMNS * SIDE)
  const light = lightOf((x) => [90, -40, cr(x)])
  const lnRatio = (l: number, b: number, r: number) =>
    Math.log(
      decodeTransfer((l - 0.344136 * b - 0.714136 * r) / 255) /
        decodeTransfer((l + 1.402 * r) / 255),
    )
  let squares = 0
  const columns = COLUMNS * SIDE
  for (let x = 0; x < columns; x++) {
    const error = lnRatio(90, -40, Math.round(cr(x))) - lnRatio(90, -40, cr(x))
    squares += error ** 2 / columns
  }
  const stated = median(errors(light))
  // Y and Cb, whole by chance here, are open too.
  expect(stated).toBeGreaterThan(Math.sqrt(squares))
  expect(stated).toBeLessThan(1.5 * Math.sqrt(squares))
})

test('noise of a code or more in every plane leaves nothing of it', () => {
  const [y, b, r] = [normal(1), normal(2), normal(3)]
  const flat = median(errors(lightOf(() => [90, -40, 80])))
  const noisy = median(errors(lightOf(() => [90 + y(), -40 + b(), 80 + r()])))
  expect(flat).toBeGreaterThan(0.005)
  expect(noisy).toBeLessThan(0.02 * flat)
})
