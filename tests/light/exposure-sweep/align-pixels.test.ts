import { describe, expect, test } from 'vitest'
import { findShift, shifted } from '../../../src/light/exposure-sweep/align.ts'
import type { Region, StoredImage } from '../../../src/light/image.ts'
import { normal } from '../pictures.ts'

const [WIDTH, HEIGHT] = [150, 120]
const REGION: Region = { shape: 'rectangle', x: 50, y: 40, width: 40, height: 30 }

/** Red codes by place; green and blue say something else. */
function frame(red: (x: number, y: number) => number): StoredImage {
  const codes = new Float32Array(3 * WIDTH * HEIGHT)
  for (let y = 0, i = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++, i += 3) codes.set([red(x, y), 0.3, (x % 7) / 7], i)
  return { width: WIDTH, height: HEIGHT, space: 'display-p3', codes }
}
/** Spots of several sizes, none in line with another. */
const SPOTS = [
  [62, 48, 6, 0.7],
  [80, 60, 4, 0.5],
  [70, 68, 9, 0.3],
  [52, 62, 3, 0.4],
  [95, 42, 5, 0.3],
] as const
const scene = (x: number, y: number) =>
  SPOTS.reduce(
    (sum, [u, v, size, height]) =>
      sum + height * Math.exp(-((x - u) ** 2 + (y - v) ** 2) / (2 * size ** 2)),
    0.1,
  )
const REFERENCE = frame(scene)
const movedBy = (dx: number, dy: number, of = (code: number) => code) =>
  findShift(
    REFERENCE,
    frame((x, y) => of(scene(x - dx, y - dy))),
    REGION,
  )!

describe('a frame against another', () => {
  test.each([
    [0, 0],
    [5, 0],
    [0, -7],
    [-11, 4],
    [17, 15],
    [-20, -9],
  ])('lies %d, %d pixels further, and is as like it as can be', (dx, dy) => {
    const found = movedBy(dx, dy)
    expect(Math.hypot(found.dx - dx, found.dy - dy)).toBeLessThan(0.05)
    expect(found.correlation).toBeGreaterThan(0.98)
    expect(found.correlation).toBeLessThanOrEqual(1)
  })

  test.each([
    [0.3, 0],
    [0, -0.4],
    [2.25, -3.4],
  ])('is found to a twentieth of a pixel: %d, %d', (dx, dy) => {
    const found = movedBy(dx, dy)
    expect(Math.abs(found.dx - dx)).toBeLessThan(0.05)
    expect(Math.abs(found.dy - dy)).toBeLessThan(0.05)
  })

  test('is found by red, whatever its exposure and its contrast', () => {
    const found = movedBy(6, -3, (code) => 0.3 * code ** 0.8 + 0.05)
    expect(Math.hypot(found.dx - 6, found.dy + 3)).toBeLessThan(0.1)
    expect(found.correlation).toBeGreaterThan(0.97)
  })

  test('shows nothing where its codes spread by less than 0.02', () => {
    const of = (sd: number) => {
      // A wave over the region's surroundings, as wide as its coarse cells.
      const wave = (x: number, y: number) =>
        0.5 + sd * 2 * Math.sin((2 * Math.PI * x) / 44) * Math.sin((2 * Math.PI * y) / 39)
      return findShift(frame(wave), frame(wave), REGION)
    }
    expect(of(0.0185)).toBeNull()
    expect(of(0.0215)).not.toBeNull()
    expect(
      findShift(
        REFERENCE,
        frame(() => 0.5),
        REGION,
      ),
    ).toBeNull()
    expect(
      findShift(
        frame(() => 0.5),
        REFERENCE,
        REGION,
      ),
    ).toBeNull()
  })

  test('is not less like it for its noise', () => {
    const draw = normal(7)
    const noisy = frame((x, y) => scene(x - 3, y - 2) + 0.15 * draw())
    const found = findShift(REFERENCE, noisy, REGION)!
    expect(Math.hypot(found.dx - 3, found.dy - 2)).toBeLessThan(0.7)
    expect(found.correlation).toBeGreaterThan(0.9)
  })

  test('of another scene is not like it', () => {
    const other = frame((x, y) => scene(150 - x, 1.2 * y - 30))
    const found = findShift(REFERENCE, other, REGION)!
    expect(found.correlation).toBeLessThan(0.85)
  })

  test('is looked at where the region lies, cut at the edge of the picture', () => {
    const corner: Region = { shape: 'ellipse', x: 70, y: 50, width: 70, height: 65 }
    const found = findShift(
      REFERENCE,
      frame((x, y) => scene(x - 4, y - 5)),
      corner,
    )!
    expect(Math.hypot(found.dx - 4, found.dy - 5)).toBeLessThan(0.1)
  })
})

test('a region goes along with its frame', () => {
  expect(shifted(REGION, { dx: 3, dy: -2 })).toEqual({ ...REGION, x: 53, y: 38 })
})
