import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Orientation } from '../../../src/sources/files/exif-orientation.ts'
import { findOrientation } from '../../../src/sources/files/exif-orientation.ts'
import { storedBox, turnPixels, uprightSize } from '../../../src/sources/photo/turn.ts'
import { writeTiff } from '../../making/write-tiff.ts'

const orientations = fc.integer({ min: 1, max: 8 }) as fc.Arbitrary<Orientation>

/** A picture whose pixels are all different: the number of the pixel in red and green. */
function numbered(width: number, height: number) {
  const pixels = new Uint8ClampedArray(4 * width * height)
  for (let i = 0; i < width * height; i++) pixels.set([i & 255, i >> 8, 7, 255], 4 * i)
  return pixels
}
const numberAt = (pixels: Uint8ClampedArray, i: number) => pixels[4 * i]! + 256 * pixels[4 * i + 1]!

describe('turning a picture upright', () => {
  /** Exif 2.32, table 4: where the stored 0th row and 0th column are on the upright picture. */
  const table: [Orientation, row: string, column: string][] = [
    [1, 'top', 'left'],
    [2, 'top', 'right'],
    [3, 'bottom', 'right'],
    [4, 'bottom', 'left'],
    [5, 'left', 'top'],
    [6, 'right', 'top'],
    [7, 'right', 'bottom'],
    [8, 'left', 'bottom'],
  ]
  test.each(table)(
    '%i: first row at the %s, first column at the %s',
    (orientation, row, column) => {
      const stored = { width: 5, height: 3 }
      const upright = uprightSize(stored, orientation)
      const turned = turnPixels(numbered(5, 3), stored, orientation)
      const edge: Record<string, number[]> = { top: [], bottom: [], left: [], right: [] }
      for (let y = 0; y < upright.height; y++) {
        for (let x = 0; x < upright.width; x++) {
          const n = numberAt(turned, y * upright.width + x)
          if (y === 0) edge.top!.push(n)
          if (y === upright.height - 1) edge.bottom!.push(n)
          if (x === 0) edge.left!.push(n)
          if (x === upright.width - 1) edge.right!.push(n)
        }
      }
      const sorted = (numbers: number[]) => [...numbers].sort((a, b) => a - b)
      expect(sorted(edge[row]!)).toEqual([0, 1, 2, 3, 4])
      expect(sorted(edge[column]!)).toEqual([0, 5, 10])
    },
  )

  test('a box of the upright picture is the same pixels, cut before or after turning', () => {
    fc.assert(
      fc.property(
        orientations,
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 1, max: 9 }),
        fc.tuple(fc.nat(8), fc.nat(8), fc.nat(8), fc.nat(8)),
        (orientation, width, height, [a, b, c, d]) => {
          const stored = { width, height }
          const whole = numbered(width, height)
          const upright = uprightSize(stored, orientation)
          const box = {
            left: Math.min(a, b) % upright.width,
            top: Math.min(c, d) % upright.height,
            right: 0,
            bottom: 0,
          }
          box.right = Math.min(upright.width, box.left + 1 + Math.abs(a - b))
          box.bottom = Math.min(upright.height, box.top + 1 + Math.abs(c - d))
          const cut = (pixels: Uint8ClampedArray, rowLength: number, of: typeof box) => {
            const numbers: number[] = []
            for (let y = of.top; y < of.bottom; y++) {
              for (let x = of.left; x < of.right; x++)
                numbers.push(numberAt(pixels, y * rowLength + x))
            }
            return numbers
          }
          const after = cut(turnPixels(whole, stored, orientation), upright.width, box)
          const part = storedBox(box, stored, orientation)
          const size = { width: part.right - part.left, height: part.bottom - part.top }
          const partPixels = new Uint8ClampedArray(4 * size.width * size.height)
          cut(whole, width, part).forEach((n, i) => {
            partPixels.set([n & 255, n >> 8, 7, 255], 4 * i)
          })
          const turned = turnPixels(partPixels, size, orientation)
          expect(Array.from({ length: turned.length / 4 }, (_, i) => numberAt(turned, i))).toEqual(
            after,
          )
        },
      ),
    )
  })

  test('the field is found in an EXIF block, and nonsense in it means upright', () => {
    const block = (value: number) =>
      writeTiff({
        main: [
          { tag: 271, type: 'ascii', values: 'Made up' },
          { tag: 274, type: 'short', values: [value] },
        ],
      })
    const field = findOrientation(block(6))
    expect(field?.orientation).toBe(6)
    expect(block(6)[field!.at]).toBe(6)
    expect(findOrientation(block(0))).toBeNull()
    expect(findOrientation(block(9))).toBeNull()
    expect(findOrientation(writeTiff({ main: [] }))).toBeNull()
    expect(findOrientation(new Uint8Array([0x49, 0x49, 42]))).toBeNull()
    // Big-endian: the value stands in the first two bytes of the field.
    const big = new Uint8Array(26)
    big.set([0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 8, 0, 0])
    expect(findOrientation(big)).toEqual({ orientation: 8, at: 19 })
  })
})
