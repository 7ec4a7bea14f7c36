import { describe, expect, test } from 'vitest'
import { measureBackground, subtract } from '../../src/light/background-ring.ts'
import { CLIPPED, FLOOR, FLOOR_RED, type LightImage, type Region } from '../../src/light/image.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { exact } from './cards.ts'

const SIZE = 160
const GLOW: Triple = [0.4, 0.04, 0.004]
const DARK: Triple = [0.01, 0.01, 0.01]
/**
 * The ring around it reaches 24 pixels: 10 x 10 blocks from (40, 40), of which those keep 4 pixels from it
 * that lie in the two outer rows or columns: 64.
 */
const REGION: Region = { shape: 'rectangle', x: 64, y: 64, width: 32, height: 32 }

/** Light of the block at a column and a row of the ring. */
function seen(
  blockAt: (column: number, row: number) => Triple,
  flagAt: (column: number, row: number) => number = () => 0,
) {
  const rgb = new Float32Array(3 * SIZE * SIZE)
  const flags = new Uint8Array(SIZE * SIZE)
  for (let y = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++) {
      const inside = x >= 64 && x < 96 && y >= 64 && y < 96
      const [column, row] = [Math.floor((x - 40) / 8), Math.floor((y - 40) / 8)]
      rgb.set(inside ? GLOW : blockAt(column, row), 3 * (y * SIZE + x))
      flags[y * SIZE + x] = inside ? 0 : flagAt(column, row)
    }
  const image: LightImage = { width: SIZE, height: SIZE, channels: 'camera', rgb, flags }
  return measureBackground(image, REGION, GLOW)!
}
/** Blocks that its mean rests on: all without a fifth at either end. */
const kept = (all: number) => all - 2 * Math.floor(0.2 * all)
const at = (column: number, row: number) => (c: number, r: number) => c === column && r === row

describe('surroundings of a glow', () => {
  test('are the blocks of a ring, without the fifth that is darkest and the fifth that is brightest', () => {
    expect(seen(() => DARK).pixels / 64).toBe(kept(64))
    const lamps = (count: number) =>
      seen((c, r) => (r === 0 && c < count ? [0.9, 0.9, 0.9] : DARK)).colour.mean[0]
    expect(lamps(10)).toBeCloseTo(0.01, 6)
    const holes = (count: number) =>
      seen((c, r) => (c === 9 && r < count ? [0, 0, 0] : DARK)).colour.mean[0]
    expect(holes(10)).toBeCloseTo(0.01, 6)
    // A quarter of 64 are sixteen: four stay.
    const many = seen((c, r) => (r < 2 && c < 8 ? [0.03, 0.03, 0.03] : DARK)).colour.mean[0]
    expect(many).toBeCloseTo(0.01 + (0.02 * 4) / 40, 6)
  })

  test.each([
    [0, 0, 4],
    [1, 1, 8],
    [9, 9, 4],
    [8, 8, 8],
    [5, 0, 6],
    [0, 5, 6],
    [9, 4, 6],
    [4, 9, 6],
  ])('leave out another glow at block %d, %d with all that touch it: %d', (column, row, lost) => {
    const here = at(column, row)
    expect(seen((c, r) => (here(c, r) ? GLOW : DARK)).pixels / 64).toBe(kept(64 - lost))
    // A lamp that is clipped as well.
    const lamp = seen(
      () => DARK,
      (c, r) => (here(c, r) ? CLIPPED : 0),
    )
    expect(lamp.pixels / 64).toBe(kept(64 - lost))
  })

  test('say how much of the glow they are, channel by channel, also where they outshine it', () => {
    const { share } = seen(() => DARK)
    expect(share[0]).toBeCloseTo(0.01 / 0.39, 5)
    expect(share[1]).toBeCloseTo(0.01 / 0.03, 4)
    expect(share[2]).toBeCloseTo(0.01 / 1e-6, -1)
  })

  test('have a tint against the glow, none where they are black', () => {
    const { tint } = seen(() => [0.02, 0.01, 0.004])
    expect(tint!.greenOverRed).toBeCloseTo(Math.log(0.01 / 0.04 / (0.02 / 0.4)), 4)
    expect(tint!.blueOverRed).toBeCloseTo(Math.log(0.004 / 0.004 / (0.02 / 0.4)), 4)
    expect(seen(() => [0, 0, 0]).tint).toBeNull()
  })

  test('are known to 0.29 of themselves, all channels together, and by their own scatter', () => {
    const even = seen(() => [0.02, 0.01, 0.004]).colour
    for (const a of [0, 1, 2] as const)
      for (const b of [0, 1, 2] as const)
        expect(even.covariance[a][b] / (0.29 ** 2 * even.mean[a] * even.mean[b])).toBeCloseTo(1, 4)
    // Green up and down from block to block, red and blue alike: no order by their sum but green's.
    const spread = seen((c, r) => [0.02, (c + r) % 2 === 0 ? 0.011 : 0.009, 0.004]).colour
    const own = spread.covariance[1][1] - 0.29 ** 2 * spread.mean[1] ** 2
    // Four blocks are a sample.
    expect(own / (0.001 ** 2 / (kept(64) / 4))).toBeCloseTo(1, 1)
  })

  test('whose noise was cut off at the floor are less, and unsure by a quarter of what that is', () => {
    // A block in four is at the floor in red: z = 0.674, z / (z F(z) + f(z)) = 0.819.
    const share = (c: number, r: number) => ((c + 2 * r) % 4 === 0 ? FLOOR | FLOOR_RED : 0)
    const { colour } = seen(() => DARK, share)
    expect(colour.mean[0] / 0.01).toBeGreaterThan(0.75)
    expect(colour.mean[0] / 0.01).toBeLessThan(0.9)
    expect(colour.mean[1]).toBeCloseTo(0.01, 6)
    const taken = 0.01 - colour.mean[0]
    // Blocks lie about the mean by as much, and four are a sample.
    const expected =
      (0.29 * colour.mean[0]) ** 2 + (0.25 * taken) ** 2 + taken ** 2 / (kept(64) / 4)
    expect(colour.covariance[0][0] / expected).toBeCloseTo(1, 3)
  })
})

test('a glow without its background has both uncertainties', () => {
  const one = exact([0.4, 0.04, 0.004])
  const glow = {
    ...one,
    covariance: [
      [4, 1, 0],
      [1, 9, 2],
      [0, 2, 16],
    ],
  } as never
  const dark = {
    mean: [0.01, 0.02, 0.001],
    covariance: [
      [1, 0, 0],
      [0, 1, 3],
      [0, 3, 1],
    ],
  } as never
  const { mean, covariance } = subtract(glow, dark)
  expect(mean).toEqual([0.39, 0.02, 0.003].map((v) => expect.closeTo(v, 9)))
  expect(covariance).toEqual([
    [5, 1, 0],
    [1, 10, 5],
    [0, 5, 17],
  ])
})
