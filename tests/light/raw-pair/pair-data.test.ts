import { describe, expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { CLIPPED, FLOOR, FLOOR_GREEN } from '../../../src/light/image.ts'
import type { LightMap } from '../../../src/light/raw-pair/light-map.ts'
import { pairData } from '../../../src/light/raw-pair/pair-data.ts'
import type { MapPlace } from '../../../src/light/raw-pair/place-maps.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { grey, map } from './maps.ts'

const [W, H] = [60, 45]

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

  test('comes from all cells but the outermost, between which nothing can be seen', () => {
    const data = pairData(
      map(W, H, () => grey(0.5)),
      map(W, H, () => grey(0.4)),
      SAME,
    )
    expect(data).toHaveLength(1)
    expect(data[0]!.cells).toBe((W - 3) * (H - 3))
    let squares = 0
    for (let y = 1; y < H - 2; y++)
      for (let x = 1; x < W - 2; x++)
        squares += ((x - W / 2) ** 2 + (y - H / 2) ** 2) / ((W / 2) ** 2 + (H / 2) ** 2)
    expect(data[0]!.radiusSquared).toBeCloseTo(squares / data[0]!.cells, 9)
  })

  test('is without the raw cells next to a clipped one, as far as a place between cells reaches', () => {
    const even = map(W, H, () => grey(0.5))
    const cells = (flag: (x: number, y: number) => number, place = SAME) =>
      pairData(
        even,
        map(W, H, () => grey(0.4), { flag }),
        place,
      ).reduce((sum, datum) => sum + datum.cells, 0)
    const all = (W - 3) * (H - 3)
    expect(all - cells((x) => (x === 10 ? CLIPPED : 0))).toBe(4 * (H - 3))
    expect(all - cells((_, y) => (y === 20 ? CLIPPED : 0))).toBe(4 * (W - 3))
  })

  test('is the raw light at the photo’s place, between cells', () => {
    // A slope so gentle that all is one level.
    const sloping = map(W, H, (x, y) => [0.36 + 0.0004 * x, 0.2 + 0.0003 * y, 0.1])
    const [datum] = pairData(
      map(W, H, () => grey(0.5)),
      sloping,
      { ...SAME, left: 0.25, top: 0.5 },
    )
    // Cells 1 to 56 and 1 to 41: the last two of each are too near the end.
    expect(datum!.raw[0]).toBeCloseTo(0.36 + 0.0004 * ((1 + W - 3) / 2 + 0.75), 5)
    expect(datum!.raw[1]).toBeCloseTo(0.2 + 0.0003 * ((1 + H - 3) / 2 + 1), 5)
  })

  test('is not taken where raw light changes by more than a quarter from cell to cell', () => {
    const count = (slope: number, { scale = 1, down = false } = {}) => {
      const steep = map(W, H, (x, y) => grey(0.001 * Math.exp(slope * (down ? y : x))))
      const [width, height] = [Math.floor(W / scale), Math.floor(H / scale)]
      return pairData(
        map(width, height, () => grey(0.5)),
        steep,
        { ...SAME, scale },
      ).length
    }
    for (const down of [false, true]) {
      expect(count(0.19, { down })).toBeGreaterThan(1)
      expect(count(0.25, { down })).toBe(0)
    }
    // Of the photo's cells, which are twice as large as the raw picture's here.
    expect(count(0.1, { scale: 0.5 })).toBeGreaterThan(1)
    expect(count(0.13, { scale: 0.5 })).toBe(0)
  })

  test('is that of the 150 levels and colours that most cells show', () => {
    const strewn = map(W, H, (x, y) => {
      const level = 0.01 * Math.exp(0.08 * x)
      return [level, 0.1 * level * Math.exp(0.06 * y), 0.05 * level]
    })
    const data = pairData(
      map(W, H, () => grey(0.5)),
      strewn,
      SAME,
    )
    expect(data).toHaveLength(150)
    expect(data.every(({ cells }, i) => i === 0 || cells <= data[i - 1]!.cells)).toBe(true)
  })

  test('is as unsure as a curve bends the noise of dark pixels: 0.4 of their relative variance', () => {
    const dark = (level: number) =>
      pairData(
        map(W, H, () => grey(0.5)),
        map(W, H, () => [level, level, 0.1]),
        SAME,
      )[0]!.uncertainty
    // 12 bits: 0.0005 of read noise, and shot noise of 10,000 electrons.
    for (const level of [5e-4, 1e-3]) {
      const variance = (5e-4 ** 2 + 1e-4 * level) / level ** 2
      expect(dark(level)[0] / (0.4 * variance)).toBeCloseTo(1, 1)
    }
    expect(dark(0.3)[0]).toBeLessThan(0.02)
  })

  test('is as unsure as the steps of the file leave a code', () => {
    const of = (step: number) =>
      pairData(
        map(W, H, () => grey(0.5)),
        map(W, H, () => grey(0.4)),
        SAME,
        { luma: step, chroma: step },
      )[0]!.uncertainty
    const [fine, coarse] = [of(1), of(30)]
    // A step of 30 in 8 block means is 1.08 codes: of Y and 1.4 of Cr together 1.9 codes of red.
    const code = (v: number) => 255 * encodeTransfer(v)
    const perCode = (decodeTransfer((code(0.5) + 1) / 255) - 0.5) / 0.5
    expect(coarse[0] / (1.87 * perCode)).toBeCloseTo(1, 1)
    for (const c of [0, 1, 2] as const) expect(coarse[c]).toBeGreaterThan(2 * fine[c])
  })
})
