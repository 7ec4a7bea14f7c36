import { describe, expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import type { LightImage } from '../../../src/light/image.ts'
import { stepError } from '../../../src/light/map/step-error.ts'

const [COLUMNS, ROWS, SIDE] = [12, 10, 2]
const [RED, GREEN] = [0.4, 0.05]

/** Linear light by place; blue says nothing. */
function imageOf(light: (x: number, y: number) => readonly [number, number]): LightImage {
  const [width, height] = [COLUMNS * SIDE + 1, ROWS * SIDE]
  const rgb = new Float32Array(3 * width * height)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) rgb.set([...light(x, y), 0.7], 3 * (y * width + x))
  return { width, height, channels: 'display-p3', rgb, flags: new Uint8Array(width * height) }
}
const errorsOf = (image: LightImage, luma: number, chroma: number, step = 1) =>
  stepError(image, { luma, chroma }, { side: SIDE, columns: COLUMNS, rows: ROWS, step })
const even = imageOf(() => [RED, GREEN])

/** d ln(light) by one code. */
const perCode = (light: number) => {
  const code = 255 * encodeTransfer(light)
  return Math.log(decodeTransfer((code + 0.5) / 255) / decodeTransfer((code - 0.5) / 255))
}
/** ln(G/R) by one code of Y, Cb and Cr: ITU-T T.871. */
const [r, g] = [perCode(RED), perCode(GREEN)]
const BY = { y: g - r, cb: -0.344136 * g, cr: -0.714136 * g - 1.402 * r }
/** Even errors of so many codes in Y, and in Cb and Cr. */
const expected = (luma: number, chroma: number) =>
  Math.hypot(luma * BY.y, chroma * BY.cb, chroma * BY.cr) / Math.sqrt(12)

describe('a cell of even codes errs by whole steps of Y, Cb and Cr', () => {
  test.each([
    [8, 8, 1, 1],
    [40, 8, 5, 1],
    [8, 40, 1, 5],
    // A decoder gives whole codes, however fine the file.
    [2, 2, 1, 1],
  ])('steps of %d and %d in the file', (luma, chroma, y, c) => {
    const errors = errorsOf(even, luma, chroma)
    for (const at of [0, 5, COLUMNS * ROWS - 1])
      expect(Math.abs(errors[at]! / expected(y, c) - 1)).toBeLessThan(0.02)
  })
})

test('a place without light says nothing, and its neighbours by the sides that do', () => {
  const dark = imageOf((x, y) => (x < 8 && y < 8 ? [0, 0] : [RED, GREEN]))
  // Cells of 8 pixels: each window is two cells wide.
  const errors = errorsOf(dark, 8, 8, 4)
  expect(errors[0]).toBeNaN()
  expect(errors[6 * COLUMNS + 6]! / expected(1, 1)).toBeCloseTo(1, 1)
  const noGreen = errorsOf(
    imageOf(() => [RED, 0]),
    8,
    8,
  )
  expect(noGreen.every(Number.isNaN)).toBe(true)
})

describe('where codes spread', () => {
  const amplitude = (codes: number, plane: 'y' | 'cr', period = 1) =>
    imageOf((x, y) => {
      const sign = Math.floor(x / period) + Math.floor(y / period)
      const move = codes * (sign % 2 === 0 ? 1 : -1)
      const [red, green] = plane === 'y' ? [move, move] : [1.402 * move, -0.714136 * move]
      return [
        decodeTransfer(encodeTransfer(RED) + red / 255),
        decodeTransfer(encodeTransfer(GREEN) + green / 255),
      ]
    })

  test('by more than a code in Y, its steps average out, those of colour stay', () => {
    const errors = errorsOf(amplitude(1.5, 'y'), 8, 8)
    const left = Math.hypot(BY.cb, BY.cr) / Math.sqrt(12)
    expect(Math.abs(errors[50]! / left - 1)).toBeLessThan(0.1)
  })

  test('by more than a code in Cr, those of colour average out', () => {
    const errors = errorsOf(amplitude(1.5, 'cr'), 8, 8)
    expect(errors[50]! / (Math.abs(BY.y) / Math.sqrt(12))).toBeLessThan(1.2)
    expect(errors[50]).toBeLessThan(0.5 * expected(1, 1))
  })

  test('by as much as rounding alone, nothing averages out', () => {
    const errors = errorsOf(amplitude(Math.sqrt(1 / 12), 'cr'), 8, 8)
    expect(errors[50]! / expected(1, 1)).toBeGreaterThan(0.95)
  })

  test('in wide bands, each side of one counts by itself: a cell beside it is told by its even side', () => {
    // Half the picture two codes of Cr above the other.
    const banded = imageOf((x) => {
      const move = x < COLUMNS ? 0 : 2
      return [
        decodeTransfer(encodeTransfer(RED) + (1.402 * move) / 255),
        decodeTransfer(encodeTransfer(GREEN) - (0.714136 * move) / 255),
      ]
    })
    const errors = errorsOf(banded, 8, 8)
    const row = 5 * COLUMNS
    expect(errors[row]! / expected(1, 1)).toBeCloseTo(1, 1)
    // At the band two of four windows see both codes.
    expect(errors[row + COLUMNS / 2]! / expected(1, 1)).toBeGreaterThan(0.6)
    expect(errors[row + COLUMNS / 2]! / expected(1, 1)).toBeLessThan(0.9)
  })
})
