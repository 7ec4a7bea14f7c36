import { describe, expect, test } from 'vitest'
import { decodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { CLIPPED, FLOOR, FLOOR_GREEN } from '../../../src/light/image.ts'
import type { LightMap } from '../../../src/light/raw-pair/light-map.ts'
import { pairData } from '../../../src/light/raw-pair/pair-data.ts'
import {
  type MapPlace,
  placeInRaw,
  placeMaps,
  turnedMap,
} from '../../../src/light/raw-pair/place-maps.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'

function map(
  width: number,
  height: number,
  light: (x: number, y: number) => Triple,
  { cell = 8, flag = (_x: number, _y: number): number => 0 } = {},
): LightMap {
  const made = {
    width,
    height,
    cell,
    of: { width: width * cell, height: height * cell },
    light: new Float32Array(3 * width * height),
    flags: new Uint8Array(width * height),
  }
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      made.light.set(light(x + 0.5, y + 0.5), 3 * (y * width + x))
      made.flags[y * width + x] = flag(x, y)
    }
  return made
}

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
const grey = (level: number): Triple => [level, 0.5 * level, 0.1 * level]
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

describe('what the cells of both say', () => {
  const SAME: MapPlace = { scale: 1, left: 0, top: 0, bulge: 0, correlation: 1 }
  /** Two even halves, without the steep middle. */
  const halves = (x: number): Triple => (x < W / 2 ? [0.4, 0.1, 0.05] : [0.1, 0.04, 0.02])
  const raw = map(W, H, halves)
  const photo = map(W, H, (x) => halves(x).map((v) => 2 * v) as unknown as Triple)

  test('is the mean of alike ones: raw light, and the photo’s by its codes', () => {
    const data = pairData(photo, raw, SAME)
    expect(data).toHaveLength(2)
    const [one, two] = data.toSorted((a, b) => b.raw[0] - a.raw[0])
    one!.raw.forEach((value, c) => {
      expect(value).toBeCloseTo([0.4, 0.1, 0.05][c]!, 5)
    })
    one!.nominal.forEach((value, c) => {
      expect(value).toBeCloseTo(Math.log([0.8, 0.2, 0.1][c]!), 5)
    })
    expect(two!.raw[0]).toBeCloseTo(0.1, 5)
    // Cells at the steep border say nothing.
    expect(one!.cells + two!.cells).toBeLessThan((W - 2) * (H - 2) - 2 * (H - 2))
  })

  test('is never surer than real curves are smooth, and less sure in the dark', () => {
    const [one, two] = pairData(photo, raw, SAME).toSorted((a, b) => b.raw[0] - a.raw[0])
    for (const c of [0, 1, 2] as const) {
      expect(one!.uncertainty[c]).toBeGreaterThan(0.003)
      expect(two!.uncertainty[c]).toBeGreaterThan(one!.uncertainty[c])
    }
  })

  test('leaves out the clipped with their neighbours', () => {
    const clipped = map(W, H, (x) => halves(x), {
      flag: (x) => (x === 10 ? CLIPPED : 0),
    })
    const count = (a: LightMap, b: LightMap) =>
      pairData(a, b, SAME).reduce((sum, { cells }) => sum + cells, 0)
    const all = count(photo, raw)
    const without = all - count({ ...photo, flags: clipped.flags }, raw)
    expect(without).toBeGreaterThanOrEqual(3 * (H - 4))
    expect(without).toBeLessThanOrEqual(3 * H)
    expect(count(photo, { ...raw, flags: clipped.flags })).toBeLessThan(all)
  })

  test('says nothing of a channel at its floor or below the fifth code', () => {
    const floors = (share: number) =>
      map(W, H, () => [0, 0, 0], {
        flag: (x, y) => ((x + W * y) % 100 < 100 * share ? FLOOR | FLOOR_GREEN : 0),
      }).flags
    const greenOf = (share: number) =>
      pairData({ ...photo, flags: floors(share) }, raw, SAME)[0]!.nominal[1]
    expect(greenOf(0.01)).not.toBeNull()
    expect(greenOf(0.05)).toBeNull()
    const dim = (code: number) =>
      pairData(
        map(W, H, () => [0.5, decodeTransfer(code / 255), 0.01]),
        map(W, H, () => [0.4, 0.01, 0.005]),
        SAME,
      )[0]!.nominal[1]
    expect(dim(5.1)).not.toBeNull()
    expect(dim(4.9)).toBeNull()
  })

  test('is nothing where the sensor saw nothing', () => {
    const dark = (level: number) =>
      pairData(
        map(W, H, () => grey(0.5)),
        map(W, H, () => [0.1, level, level]),
        SAME,
      )
    expect(dark(1.9e-4)).toEqual([])
    expect(dark(2.1e-4)).toHaveLength(1)
  })
})
