import { describe, expect, test } from 'vitest'
import type { LightImage } from '../../../src/light/image.ts'
import { glowOutline } from '../../../src/light/map/glow-outline.ts'
import { normalCdf } from '../../../src/numerics/heavy-tails.ts'
import { uniform } from '../pictures.ts'

const DARKEST = 0.01
const outlineOf = (width: number, height: number, red: (x: number, y: number) => number) => {
  const rgb = new Float32Array(3 * width * height)
  for (let p = 0; p < width * height; p++) rgb[3 * p] = red(p % width, Math.floor(p / width))
  return glowOutline({ width, height, rgb } as unknown as LightImage, DARKEST)
}

test('each pixel is as deep as its steps to the nearest dark one, straight and across corners', () => {
  const [width, height] = [61, 43]
  const draw = uniform(21)
  const dark = Array.from(
    { length: 12 },
    () => [Math.floor(width * draw()), Math.floor(height * draw())] as const,
  )
  const { depth } = outlineOf(width, height, (x, y) =>
    dark.some(([u, v]) => u === x && v === y) ? 0 : 0.5,
  )
  // Borgefors 1986: 0.955 to a neighbour, 1.369 across a corner.
  const expected = Array.from({ length: width * height }, (_, p) =>
    Math.min(
      ...dark.map(([u, v]) => {
        const [a, b] = [Math.abs(u - (p % width)), Math.abs(v - Math.floor(p / width))]
        return 0.955 * Math.abs(a - b) + 1.369 * Math.min(a, b)
      }),
    ),
  )
  expect(Math.max(...expected.map((steps, p) => Math.abs(steps - depth[p]!)))).toBeLessThan(1e-4)
})

test('what glows is told by the brightest within its block of 16 pixels and those around', () => {
  // Neither side is a whole number of blocks.
  const [width, height] = [90, 70]
  const columns = Math.ceil(width / 16)
  const draw = uniform(5)
  const level = Array.from({ length: columns * 5 }, () => 0.004 * 200 ** draw())
  const own = (x: number, y: number) =>
    level[Math.floor(y / 16) * columns + Math.floor(x / 16)] ?? 0
  // One pixel of each block has its level, the others a twelfth of it.
  const red = (x: number, y: number) => own(x, y) / (x % 16 === 9 && y % 16 === 5 ? 1 : 12)
  const { depth } = outlineOf(width, height, red)
  const glows = Array.from({ length: width * height }, (_, p) => {
    const [x, y] = [p % width, Math.floor(p / width)]
    const near = [-16, 0, 16].flatMap((dy) =>
      [-16, 0, 16].map((dx) => {
        const [u, v] = [x + dx, y + dy]
        const [left, top] = [16 * Math.floor(u / 16), 16 * Math.floor(v / 16)]
        if (left < 0 || top < 0 || left >= width || top >= height) return 0
        // A block that is cut before its bright pixel has a twelfth alone.
        const whole = left + 9 < width && top + 5 < height
        return own(left, top) / (whole ? 1 : 12)
      }),
    )
    return red(x, y) > Math.max(DARKEST, 0.06 * Math.max(...near))
  })
  expect([...depth].map((steps) => steps > 0)).toEqual(glows)
  expect(glows).toContain(true)
  expect(glows).toContain(false)
})

describe('the blur of an outline', () => {
  test('is that across it where it lies at a slant', () => {
    for (const towards of [1, -1]) {
      const { blurPixels } = outlineOf(
        120,
        120,
        (x, y) => 0.5 * normalCdf((x - 60 + towards * (y - 60)) / Math.SQRT2 / 2.5),
      )
      expect(blurPixels / 2.5).toBeGreaterThan(0.97)
      expect(blurPixels / 2.5).toBeLessThan(1.06)
    }
  })

  test('is that of most of it: a sharp piece does not count', () => {
    const { blurPixels } = outlineOf(
      120,
      120,
      (x, y) => 0.5 * normalCdf((x - 60.5) / (y < 30 ? 0.3 : 3)),
    )
    expect(blurPixels / 3).toBeGreaterThan(0.95)
    expect(blurPixels / 3).toBeLessThan(1.05)
  })
})
