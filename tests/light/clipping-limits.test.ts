import { describe, expect, test } from 'vitest'
import { clippingLevels } from '../../src/light/clipping-level.ts'
import type { StoredImage } from '../../src/light/image.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

const imageOf = (width: number, height: number, codes: Float32Array): StoredImage => ({
  width,
  height,
  space: 'display-p3',
  codes,
})

// The limits are our own choice, with reasons beside them; a margin on both sides holds them in place.

/** A dark square picture with so many pixels of red at each of these codes. */
function pixels(side: number, counts: Readonly<Record<number, number>>): StoredImage {
  const codes = new Float32Array(3 * side * side).fill(20 / 255)
  let at = 0
  for (const [code, count] of Object.entries(counts))
    for (let i = 0; i < count; i++, at++) codes[3 * at] = Number(code) / 255
  return imageOf(side, side, codes)
}
const isCut = (image: StoredImage, channel: 0 | 1 | 2 = 0) => clippingLevels(image).plateau[channel]

describe('the top of a picture', () => {
  test('is its last code, half a code for rounding', () => {
    const { codes } = clippingLevels(pixels(96, {}))
    for (const code of codes) {
      expect(code).toBeGreaterThan(254 / 255)
      expect(code).toBeLessThan(1)
    }
  })

  test('is a lower code where an edge stands from code 240 on', () => {
    expect([238, 242].map((code) => isCut(pixels(96, { [code]: 2000 })))).toEqual([false, true])
  })

  test('is told by 64 pixels at least, one in two thousand of a large picture', () => {
    expect([61, 67].map((count) => isCut(pixels(96, { 250: count })))).toEqual([false, true])
    expect([77, 83].map((count) => isCut(pixels(400, { 250: count })))).toEqual([false, true])
  })

  test('has a hundredth above it at most', () => {
    const above = (count: number) => isCut(pixels(96, { 246: 2000, 252: count }))
    expect([19, 21].map(above)).toEqual([true, false])
  })

  test('holds 85 of 100 pixels near it in one code', () => {
    const beside = (count: number) => isCut(pixels(96, { 248: 850, 247: count }))
    expect([140, 160].map(beside)).toEqual([true, false])
  })
})

/** A picture of blocks of 8 by 8 pixels, each even, in codes; the rest is dark. */
function blocks(list: readonly Triple[]): StoredImage {
  const columns = 20
  const rows = Math.ceil(list.length / columns) + 2
  const codes = new Float32Array(3 * 64 * columns * rows).fill(5 / 255)
  for (const [i, block] of list.entries())
    for (let y = 0; y < 8; y++)
      for (let x = 0; x < 8; x++)
        for (let c = 0; c < 3; c++)
          codes[3 * ((8 * Math.floor(i / columns) + y) * 8 * columns + 8 * (i % columns) + x) + c] =
            block[c]! / 255
  return imageOf(8 * columns, 8 * rows, codes)
}
const even = (count: number, block: (share: number) => Triple) =>
  Array.from({ length: count }, (_, i) => block(i / (count - 1)))

describe('red that stands where green rises', () => {
  /** Blocks whose red stands at 150 while green rises from 60 to 70. */
  const plateau = (count: number) => even(count, (share) => [150, 60 + 10 * share, 10])

  test('is cut, from code 60 on', () => {
    const at = (red: number) => isCut(blocks(even(40, (share) => [red, 25 + 8 * share, 5])))
    expect([58, 62].map(at)).toEqual([false, true])
  })

  test('is so in twelve blocks at least', () => {
    expect([11, 12].map((count) => isCut(blocks(plateau(count))))).toEqual([false, true])
  })

  test('while green rises by five codes from its darkest tenth to its brightest', () => {
    // Of 21 blocks the third and the third last are four fifths apart.
    const rising = (codes: number) =>
      isCut(blocks(even(21, (share) => [150, 60 + (codes / 0.8) * share, 10])))
    expect([4.8, 5.2].map(rising)).toEqual([false, true])
  })

  test('is no glow’s up to 0.15 of what green rises by', () => {
    const rising = (slope: number) =>
      isCut(
        blocks(
          even(41, (share) => [
            150 * (1 + slope * 0.16 * (share - 0.5)),
            65 * (1 + 0.16 * (share - 0.5)),
            10,
          ]),
        ),
      )
    expect([0.142, 0.158].map(rising)).toEqual([true, false])
  })

  test('keeps to six codes either side: a colour matrix takes green off it again', () => {
    // Among the least green ones, which may be its flank.
    const beside = (codes: number) =>
      isCut(blocks([...plateau(10), [150 - codes, 60, 10], [150 - codes, 60, 10]]))
    expect([5.8, 6.2].map(beside)).toEqual([true, false])
  })

  test('other channels keep to two', () => {
    const beside = (codes: number) =>
      isCut(
        blocks([
          ...even(10, (share): Triple => [100, 245, 60 + 10 * share]),
          [100, 245 - codes, 65],
          [100, 245 - codes, 65],
        ]),
        1,
      )
    expect([1.9, 2.1].map(beside)).toEqual([true, false])
  })

  test('is brighter than nine tenths of what is as green', () => {
    // Seven tenths of 100 blocks are beyond the flank: with 7 elsewhere 91 %, with 8 89.7 %.
    const elsewhere = (count: number) =>
      isCut(blocks([...plateau(100), ...even(count, (): Triple => [40, 69, 10])]))
    expect([7, 8].map(elsewhere)).toEqual([true, false])
  })

  test('may have its least green three tenths on a flank', () => {
    const flank = (share: number) =>
      isCut(blocks([...plateau(100), ...even(20, (): Triple => [40, 60 + 10 * share, 10])]))
    expect([0.285, 0.315].map(flank)).toEqual([true, false])
  })
})
