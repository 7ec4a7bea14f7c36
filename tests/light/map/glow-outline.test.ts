import { describe, expect, test } from 'vitest'
import type { LightImage } from '../../../src/light/image.ts'
import { glowOutline } from '../../../src/light/map/glow-outline.ts'

const WIDTH = 160
const HEIGHT = 120
const DARKEST = 0.01
const outlineOf = (red: (x: number, y: number) => number) => {
  const rgb = new Float32Array(3 * WIDTH * HEIGHT)
  for (let y = 0, i = 0; y < HEIGHT; y++) for (let x = 0; x < WIDTH; x++, i += 3) rgb[i] = red(x, y)
  return glowOutline({ width: WIDTH, height: HEIGHT, rgb } as unknown as LightImage, DARKEST)
}
const at = ({ depth }: { depth: Float32Array }, x: number, y: number) => depth[y * WIDTH + x]!

describe('the depth inside a glow', () => {
  const bar = outlineOf((x, y) => (x >= 40 && x < 120 && y >= 30 && y < 90 ? 0.5 : 0))

  test('is the distance to the outline, within 8 % also across a corner (Borgefors 1986)', () => {
    expect(at(bar, 40, 60)).toBeCloseTo(1, 1)
    for (const [x, y, distance] of [
      [49, 60, 10],
      [110, 60, 10],
      [80, 39, 10],
      [80, 80, 10],
      [80, 59, 30],
    ] as const) {
      expect(at(bar, x, y) / distance).toBeGreaterThan(0.92)
      expect(at(bar, x, y) / distance).toBeLessThan(1.08)
    }
  })

  test('is none where nothing glows', () => {
    for (const [x, y] of [
      [10, 10],
      [39, 60],
      [120, 60],
      [80, 29],
      [80, 90],
    ] as const)
      expect(at(bar, x, y)).toBe(0)
  })

  test('of a notch is measured to it on the slant', () => {
    // The corner of a dark square within the glow, seen along its diagonal.
    const notched = outlineOf((x, y) => (x >= 60 && x < 100 && y >= 40 && y < 80 ? 0 : 0.5))
    for (const [x, y] of [
      [50, 30],
      [109, 30],
      [50, 89],
      [109, 89],
    ] as const) {
      expect(at(notched, x, y) / (10 * Math.SQRT2)).toBeGreaterThan(0.92)
      expect(at(notched, x, y) / (10 * Math.SQRT2)).toBeLessThan(1.08)
    }
  })

  test('counts from no edge of the picture: there the glow goes on', () => {
    const cut = outlineOf((x) => (x < 80 ? 0.5 : 0))
    expect(at(cut, 0, 60) / 80).toBeGreaterThan(0.92)
    expect(at(cut, 40, 0) / 40).toBeGreaterThan(0.92)
  })
})

describe('what glows', () => {
  test('is brighter than 0.06 of the brightest near by, and than what is no glow anywhere', () => {
    const beside = (share: number) => outlineOf((x) => (x < 80 ? 0.5 : x < 96 ? share * 0.5 : 0))
    expect(at(beside(0.07), 85, 60)).toBeGreaterThan(0)
    expect(at(beside(0.05), 85, 60)).toBe(0)
    // Far from anything brighter the same light glows.
    const alone = outlineOf((x) => (x < 30 ? 0.5 : x >= 100 ? 0.05 : 0))
    expect(at(alone, 130, 60)).toBeGreaterThan(0)
    const dark = outlineOf((x) => (x < 30 ? 0.5 : x >= 100 ? 0.008 : 0))
    expect(at(dark, 130, 60)).toBe(0)
  })

  test('has a blur where its outline is seen, and none where it fills the picture', () => {
    expect(outlineOf(() => 0.5).blurPixels).toBeNaN()
    // Normal blur of 3 pixels on an upright and a level edge.
    const soft = (d: number) => 0.5 / (1 + Math.exp((-1.702 * d) / 3))
    for (const edge of [outlineOf((x) => soft(80.5 - x)), outlineOf((_, y) => soft(60.5 - y))]) {
      expect(edge.blurPixels).toBeGreaterThan(2.7)
      expect(edge.blurPixels).toBeLessThan(3.4)
    }
  })

  test('has the same blur where surroundings are not black', () => {
    const soft = (d: number) => 1 / (1 + Math.exp((-1.702 * d) / 1.5))
    const blurOf = (dark: number) =>
      outlineOf((x) => dark + (0.5 - dark) * soft(80.5 - x)).blurPixels
    expect(blurOf(0.009) / blurOf(0)).toBeCloseTo(1, 2)
  })

  test('has a blur where twelve points of its outline are seen', () => {
    const square = (side: number) =>
      outlineOf((x, y) => (x >= 80 && x < 80 + side && y >= 60 && y < 60 + side ? 0.5 : 0))
        .blurPixels
    // Two points a row, two a column.
    expect(square(2)).toBeNaN()
    expect(square(3)).toBeGreaterThan(0)
  })
})
