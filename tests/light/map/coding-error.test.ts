import { expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { codingError } from '../../../src/light/map/coding-error.ts'

test('one step in each plane moves ln(G/R) by the stated error at worst', () => {
  const [red, green] = [0.6, 0.08]
  const steps = { luma: 3, chroma: 4 }
  const [r, g] = [255 * encodeTransfer(red), 255 * encodeTransfer(green)]
  // Mean of a block by ITU-T T.871, its DC term in whole steps of an eighth (T.81, A.3.3).
  const moved = (y: number, cb: number, cr: number) =>
    Math.log(
      decodeTransfer((g + y - 0.344136 * cb - 0.714136 * cr) / 255) /
        decodeTransfer((r + y + 1.402 * cr) / 255),
    ) - Math.log(green / red)
  const signs = [-1, 1]
  const all = signs.flatMap((a) =>
    signs.flatMap((b) => signs.map((c) => Math.abs(moved((a * 3) / 8, (b * 4) / 8, (c * 4) / 8)))),
  )
  // Straight about the colour; the true course bends by 2 % of it.
  expect(Math.max(...all) / codingError(red, green, steps)).toBeCloseTo(1, 1)
})

test('finer steps err less, a darker green more', () => {
  const fine = codingError(0.6, 0.08, { luma: 2, chroma: 2 })
  expect(codingError(0.6, 0.08, { luma: 6, chroma: 6 })).toBeCloseTo(3 * fine, 10)
  expect(codingError(0.6, 0.03, { luma: 2, chroma: 2 })).toBeGreaterThan(1.4 * fine)
})
