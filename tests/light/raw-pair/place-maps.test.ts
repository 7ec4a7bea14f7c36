import { describe, expect, test } from 'vitest'
import { CLIPPED } from '../../../src/light/image.ts'
import type { LightMap } from '../../../src/light/raw-pair/light-map.ts'
import {
  type MapPlace,
  placeInRaw,
  placeMaps,
  turnedMap,
} from '../../../src/light/raw-pair/place-maps.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { normal } from '../pictures.ts'
import { grey, map } from './maps.ts'

/** A scene without any symmetry: soft spots of several heights. */
const scene = (x: number, y: number): number =>
  [
    [12, 10, 5, 0.6],
    [40, 14, 3, 0.9],
    [30, 32, 6, 0.4],
    [52, 36, 2.5, 0.7],
    [8, 36, 4, 0.2],
  ].reduce(
    (sum, [u, v, size, height]) =>
      sum + height! * Math.exp(-((x - u!) ** 2 + (y - v!) ** 2) / (2 * size! ** 2)),
    0.02,
  )
/** A tone curve is no displacement. */
const curved = (level: number) => grey(level ** 0.8)
const [W, H] = [60, 45]
const RAW = map(W, H, (x, y) => grey(scene(x, y)))
const RED: Triple = [1, 0, 0]

/** Where a place of the photo lies in the raw map, as it was found. */
const found = (photo: LightMap, raw: LightMap = RAW) => {
  const placed = placeMaps(photo, raw, RED)
  if (placed === null) throw new Error('not placed')
  return { ...placed, at: (x: number, y: number) => placeInRaw(placed.place, placed.raw, x, y) }
}

describe('a photo in the raw picture of its shot', () => {
  test('lies where it lies: whole, or cut by some cells and moved', () => {
    const whole = found(map(W, H, (x, y) => curved(scene(x, y))))
    expect(whole.place.correlation).toBeGreaterThan(0.98)
    const moved = found(map(W - 4, H - 4, (x, y) => curved(scene(x + 3, y + 1))))
    for (const [x, y] of [
      [10, 10],
      [45, 30],
    ] as const) {
      expect(Math.hypot(whole.at(x, y)[0] - x, whole.at(x, y)[1] - y)).toBeLessThan(0.3)
      expect(Math.hypot(moved.at(x, y)[0] - x - 3, moved.at(x, y)[1] - y - 1)).toBeLessThan(0.3)
    }
    expect(moved.place.bulge).toBe(0)
  })

  test('is found at half of its size', () => {
    const { at, place } = found(map(W, H, (x, y) => curved(scene(x, y)), { cell: 4 }))
    expect(place.scale).toBeCloseTo(1, 2)
    expect(Math.hypot(at(40, 14)[0] - 40, at(40, 14)[1] - 14)).toBeLessThan(0.3)
  })

  test('is found turned by quarters', () => {
    for (const quarters of [1, 2, 3]) {
      const photo = map(W, H, (x, y) => curved(scene(x, y)))
      const { raw, place } = found(turnedMap(photo, quarters))
      expect(place.correlation).toBeGreaterThan(0.98)
      expect(raw.light).toEqual(turnedMap(RAW, quarters).light)
    }
  })

  test.each([
    [6, 0],
    [-5, 4],
    [0, -6],
  ])('is found up to six cells off its place: %d, %d', (dx, dy) => {
    const { at } = found(map(W - 14, H - 14, (x, y) => curved(scene(x + 7 + dx, y + 7 + dy))))
    expect(Math.hypot(at(20, 15)[0] - 27 - dx, at(20, 15)[1] - 22 - dy)).toBeLessThan(0.3)
  })

  test('is found where it was cut about its middle, at its own size or made smaller', () => {
    const tall = found(map(40, H, (x, y) => curved(scene(x + 10, y))))
    expect(Math.hypot(tall.at(20, 20)[0] - 30, tall.at(20, 20)[1] - 20)).toBeLessThan(0.3)
    // 8 of its cells are 5 of the raw picture's; full width, cut to 16:9.
    const small = found(map(48, 27, (x, y) => curved(scene(1.25 * x, 1.25 * (y - 13.5) + 22.5))))
    expect(small.place.scale).toBeCloseTo(1.25, 1)
    expect(Math.hypot(small.at(32, 10)[0] - 40, small.at(32, 10)[1] - 18.125)).toBeLessThan(0.4)
  })

  test('is found corrected for its lens, place by place', () => {
    const lens: MapPlace = { scale: 1, left: 0, top: 0, bulge: -0.06, correlation: 1 }
    const corrected = found(map(W, H, (x, y) => curved(scene(...placeInRaw(lens, RAW, x, y)))))
    expect(corrected.place.bulge).toBeCloseTo(-0.06, 1)
    for (const [x, y] of [
      [8, 36],
      [52, 36],
      [40, 14],
    ] as const) {
      const [u, v] = placeInRaw(lens, RAW, x, y)
      expect(Math.hypot(corrected.at(x, y)[0] - u, corrected.at(x, y)[1] - v)).toBeLessThan(0.4)
    }
  })

  test('explains as much of the photo as is not noise', () => {
    const draw = normal(19)
    const noisy = (share: number) =>
      found(map(W, H, (x, y) => curved(Math.max(scene(x, y) + share * draw(), 0)))).place
        .correlation
    // Means over nine cells.
    expect(noisy(0.05)).toBeGreaterThan(0.95)
    expect(noisy(0.5)).toBeLessThan(0.8)
    expect(noisy(0.5)).toBeGreaterThan(0.2)
  })

  test('is found by its red alone, as the raw file makes it of its channels', () => {
    // The raw picture's own red says nothing; green and blue make the photo's.
    const mixed = map(W, H, (x, y) => [0.3, 0.5 * scene(x, y), 0.1])
    const placed = placeMaps(
      map(W, H, (x, y) => curved(scene(x, y))),
      mixed,
      [0, 1, 0],
    )!
    expect(placed.place.correlation).toBeGreaterThan(0.98)
    const blind = placeMaps(
      map(W, H, (x, y) => curved(scene(x, y))),
      mixed,
      [1, 0, 0],
    )
    expect(blind?.place.correlation ?? 0).toBeLessThan(0.5)
  })

  test('is looked for without its clipped cells', () => {
    const half = (x: number) => (x > 30 ? CLIPPED : 0)
    const photo = (flag: (x: number) => number) =>
      map(W, H, (x, y) => (x > 31 ? grey(0.02) : curved(scene(x, y))), { flag })
    expect(found(photo(half)).place.correlation).toBeGreaterThan(0.97)
    expect(found(photo(() => 0)).place.correlation).toBeLessThan(0.97)
  })

  test('is not found where nothing shows a structure', () => {
    const flat = map(W, H, () => grey(0.3))
    const placed = placeMaps(flat, flat, RED)
    expect(placed?.place.correlation ?? 0).toBe(0)
  })
})

test('four quarters are a whole turn, and one goes clockwise', () => {
  const corner = map(4, 3, (x, y) => (x < 1 && y < 1 ? grey(1) : grey(0)))
  const once = turnedMap(corner, 1)
  expect([once.width, once.height, once.of.width]).toEqual([3, 4, 24])
  // The upper left corner comes to the upper right.
  expect(once.light[3 * 2]).toBe(1)
  expect(turnedMap(turnedMap(RAW, 3), 1).light).toEqual(RAW.light)
  expect(turnedMap(turnedMap(RAW, 2), 2).light).toEqual(RAW.light)
})

test('a bulge moves places away from the middle by the square of their distance', () => {
  const place: MapPlace = { scale: 1, left: 0, top: 0, bulge: 0.1, correlation: 1 }
  expect(placeInRaw(place, RAW, W / 2, H / 2)).toEqual([W / 2, H / 2])
  // In the corner by the whole of it.
  const [x, y] = placeInRaw(place, RAW, W, H)
  expect(x).toBeCloseTo(W / 2 + 1.1 * (W / 2), 9)
  expect(y).toBeCloseTo(H / 2 + 1.1 * (H / 2), 9)
  const [half] = placeInRaw(place, RAW, 0.75 * W, 0.75 * H)
  expect(half).toBeCloseTo(W / 2 + (1 + 0.1 / 4) * (W / 4), 9)
})
