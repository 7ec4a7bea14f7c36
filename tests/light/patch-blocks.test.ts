import { describe, expect, test } from 'vitest'
import {
  CLIPPED,
  FLOOR,
  FLOOR_BLUE,
  FLOOR_GREEN,
  FLOOR_RED,
  type LightImage,
  type Region,
} from '../../src/light/image.ts'
import { blockMeans, measurePatch } from '../../src/light/patch.ts'
import { pixelBox } from '../../src/light/region.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { uniform } from './pictures.ts'

const [WIDTH, HEIGHT] = [56, 48]
/** 4 x 4 blocks of 8 pixels. */
const REGION: Region = { shape: 'rectangle', x: 9, y: 5, width: 32, height: 32 }

/** Raw light: no step of codes in it. Beside the region all is white. */
function imageOf(
  light: (x: number, y: number) => Triple,
  flag: (x: number, y: number) => number = () => 0,
  region = REGION,
): LightImage {
  const rgb = new Float32Array(3 * WIDTH * HEIGHT).fill(1)
  const flags = new Uint8Array(WIDTH * HEIGHT).fill(CLIPPED)
  for (let y = 0; y < region.height; y++)
    for (let x = 0; x < region.width; x++) {
      const p = (y + region.y) * WIDTH + x + region.x
      rgb.set(light(x, y), 3 * p)
      flags[p] = flag(x, y)
    }
  return { width: WIDTH, height: HEIGHT, channels: 'camera', rgb, flags }
}
/** Light of each block, alike in all of its pixels. */
const blocksOf = (block: number, columns: number, rows: number, seed = 3) => {
  const draw = uniform(seed)
  const means = Array.from({ length: columns * rows }, (): Triple => {
    const common = draw()
    return [0.5 + 0.02 * common, 0.05 + 0.004 * common + 0.003 * draw(), 0.01 + 0.002 * draw()]
  })
  const light = (x: number, y: number) =>
    means[Math.floor(y / block) * columns + Math.floor(x / block)]!
  return { means, light }
}
/** Half the mean product of differences between blocks so far apart, in rows and columns (von Neumann 1941). */
function neumann(means: readonly Triple[], columns: number, lag: number, a: number, b: number) {
  const products: number[] = []
  for (const [at, mean] of means.entries())
    for (const other of [
      (at % columns) + lag < columns ? means[at + lag] : undefined,
      means[at + lag * columns],
    ])
      if (other) products.push((other[a]! - mean[a]!) * (other[b]! - mean[b]!))
  return products.reduce((sum, v) => sum + v, 0) / products.length / 2
}

describe('the mean of a region', () => {
  test('errs by its blocks 16 pixels apart, of which each is a sample of its own', () => {
    const { means, light } = blocksOf(8, 4, 4)
    const patch = measurePatch(imageOf(light), REGION)
    expect(patch).toMatchObject({ pixels: 1024, usedPixels: 1024, samples: 4, refusal: null })
    for (const a of [0, 1, 2] as const) {
      const mean = means.reduce((sum, m) => sum + m[a] / 16, 0)
      expect(patch.colour.mean[a]).toBeCloseTo(mean, 6)
      for (const b of [0, 1, 2] as const)
        expect(patch.colour.covariance[a][b] / (neumann(means, 4, 2, a, b) / 4)).toBeCloseTo(1, 3)
      const squares = means.reduce((sum, m) => sum + 64 * (m[a] - mean) ** 2, 0)
      expect(patch.scatter[a]).toBeCloseTo(Math.sqrt(squares / 1023), 6)
    }
  })

  test('of few pixels errs by blocks of a third of its side, as far apart as there are', () => {
    const region = { ...REGION, width: 9, height: 9 }
    const { means, light } = blocksOf(3, 3, 3, 7)
    const patch = measurePatch(imageOf(light, undefined, region), region)
    // No two are 16 pixels apart, six pairs are two blocks apart; one sample.
    expect(patch).toMatchObject({ samples: 1, usedPixels: 81 })
    for (const a of [0, 1, 2] as const)
      expect(patch.colour.covariance[a][a] / neumann(means, 3, 2, a, a)).toBeCloseTo(1, 3)
  })

  test('leaves out a block further off than four robust standard deviations, in any channel', () => {
    const { means, light } = blocksOf(8, 4, 4)
    for (const c of [0, 1, 2] as const) {
      const sorted = means.map((m) => m[c]).toSorted((a, b) => a - b)
      const middle = (sorted[7]! + sorted[8]!) / 2
      const away = means.map((m) => Math.abs(m[c] - middle)).toSorted((a, b) => a - b)
      const sd = (1.4826 * (away[7]! + away[8]!)) / 2
      // The block that is furthest from the middle already, so that the others' spread stays.
      const odd = means.findIndex((m) => m[c] === sorted[15])
      const used = (deviations: number) =>
        measurePatch(
          imageOf((x, y) => {
            const own = light(x, y)
            if (own !== means[odd]) return own
            return own.map((v, k) => (k === c ? middle + deviations * sd : v)) as unknown as Triple
          }),
          REGION,
        ).usedPixels
      expect([3.8, 4.2].map(used)).toEqual([1024, 960])
    }
  })
})

describe('flags of a region', () => {
  const { light } = blocksOf(8, 4, 4)

  test('leave blocks with a clipped pixel out of the mean, and clipped pixels out of the scatter', () => {
    const bright = (x: number, y: number): Triple => (x === 5 && y === 3 ? [9, 9, 9] : light(x, y))
    const patch = measurePatch(
      imageOf(bright, (x, y) => (x === 5 && y === 3 ? CLIPPED : 0)),
      REGION,
    )
    expect(patch).toMatchObject({ usedPixels: 960, clippedShare: 1 / 1024, refusal: null })
    expect(patch.colour.mean[0]).toBeLessThan(0.53)
    expect(patch.scatter[0]).toBeLessThan(0.02)
  })

  test('are counted by channel for the floor', () => {
    const patch = measurePatch(
      imageOf(light, (x, y) =>
        y !== 0
          ? 0
          : (x < 8 ? FLOOR | FLOOR_RED : 0) |
            (x < 16 ? FLOOR | FLOOR_GREEN : 0) |
            (x < 32 ? FLOOR | FLOOR_BLUE : 0),
      ),
      REGION,
    )
    expect(patch.floorShare).toEqual([8 / 1024, 16 / 1024, 32 / 1024])
  })

  test('refuse a region of which clipped pixels touch more than half of the blocks', () => {
    // A pixel a block: less than one in a hundred of all from 8 blocks on.
    const of = (blocks: number) =>
      measurePatch(
        imageOf(light, (x, y) =>
          x % 8 === 0 && y % 8 === 0 && x / 8 + (4 * y) / 8 < blocks ? CLIPPED : 0,
        ),
        REGION,
      ).refusal
    expect([8, 9].map(of)).toEqual([null, 'clipped'])
  })
})

test('blocks of an ellipse count where half of them lies in it', () => {
  const ellipse: Region = { ...REGION, shape: 'ellipse' }
  const image = imageOf(() => [0.5, 0.05, 0.01])
  const { blocks, counts } = blockMeans(image, ellipse, pixelBox(ellipse, WIDTH, HEIGHT), 8)
  // Of 16 the four corners hold some 26 pixels of 64 each.
  expect(blocks).toHaveLength(12)
  expect(Math.abs(counts.pixels / (Math.PI * 256) - 1)).toBeLessThan(0.02)
  expect(counts.clipped).toBe(0)
  const places = blocks.map(({ column, row }) => [column, row])
  expect(places).not.toContainEqual([0, 0])
  expect(places).toContainEqual([1, 0])
  expect(places).toContainEqual([3, 2])
})
