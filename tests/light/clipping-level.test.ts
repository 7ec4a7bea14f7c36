import { describe, expect, test } from 'vitest'
import { clippingLevels } from '../../src/light/clipping-level.ts'
import type { StoredImage } from '../../src/light/image.ts'
import { seeded } from '../accuracy/random.ts'

const SIZE = 96

/** An uneven glow: red rises from left to right, green with it as a hotter glow's does (power 1.18). */
function uneven(cutAt: number): StoredImage {
  const random = seeded(7)
  const codes = new Float32Array(SIZE * SIZE * 3)
  for (let y = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++) {
      const rise = 0.5 + (0.5 * x) / SIZE
      const red = Math.min(0.8 * rise, cutAt) + 0.003 * random.normal()
      const green = 0.35 * rise ** 1.18 + 0.003 * random.normal()
      const at = 3 * (y * SIZE + x)
      codes[at] = Math.round(255 * red) / 255
      codes[at + 1] = Math.round(255 * green) / 255
      codes[at + 2] = 0.05
    }
  return { width: SIZE, height: SIZE, codes, space: 'display-p3' } as unknown as StoredImage
}

describe('a plateau of red', () => {
  test('far below the top code is found where green goes on rising', () => {
    const { codes, plateau } = clippingLevels(uneven(0.6))
    expect(plateau[0]).toBe(true)
    expect(codes[0]).toBeGreaterThan(0.57)
    expect(codes[0]).toBeLessThan(0.6)
  })

  test('is none where red rises with green', () => {
    expect(clippingLevels(uneven(1)).plateau).toEqual([false, false, false])
  })
})
