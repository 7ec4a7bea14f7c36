import { describe, expect, test } from 'vitest'
import { measureBackground } from '../../src/light/background-ring.ts'
import { FLOOR, FLOOR_RED, type LightImage, type Region } from '../../src/light/image.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

const GLOW: Triple = [0.4, 0.04, 0.004]

/** A glow at the left or in the middle, and what is around it; without noise. */
function seen(
  width: number,
  height: number,
  region: Region,
  around: (x: number, y: number) => Triple,
  atFloor: (x: number, y: number) => boolean = () => false,
) {
  const rgb = new Float32Array(3 * width * height)
  const flags = new Uint8Array(width * height)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const inside =
        x >= region.x &&
        x < region.x + region.width &&
        y >= region.y &&
        y < region.y + region.height
      rgb.set(inside ? GLOW : around(x, y), 3 * (y * width + x))
      if (!inside && atFloor(x, y)) flags[y * width + x] = FLOOR | FLOOR_RED
    }
  const image: LightImage = { width, height, channels: 'camera', rgb, flags }
  return measureBackground(image, region, GLOW)
}
const MIDDLE: Region = { shape: 'rectangle', x: 64, y: 64, width: 32, height: 32 }
const inMiddle = (
  around: (x: number, y: number) => Triple,
  atFloor?: (x: number, y: number) => boolean,
) => seen(160, 160, MIDDLE, around, atFloor)
const dark = (level: number): Triple => [level, level, level]

describe('what is around a glow', () => {
  test('is told by six blocks of 8 by 8 pixels', () => {
    // A glow fills the left end of a strip; its first 32 pixels are glow, or too near to it.
    const strip = (blocks: number) =>
      seen(32 + 8 * blocks, 8, { shape: 'rectangle', x: 0, y: 0, width: 16, height: 8 }, () =>
        dark(0.01),
      )
    expect(strip(5)).toBeNull()
    expect(strip(6)).not.toBeNull()
  })

  test('is glow itself from a quarter of its red on, where its colour is the glow’s', () => {
    const at = (level: number, lnRatio: number) =>
      inMiddle(() => [level * GLOW[0], level * GLOW[1] * Math.exp(lnRatio), 0]) === null
    expect([0.24, 0.26].map((level) => at(level, 0))).toEqual([false, true])
    expect([-0.73, -0.67, 0.67, 0.73].map((ln) => at(0.5, ln))).toEqual([false, true, true, false])
  })

  test('is less than it shows where noise is cut off at the floor, from one pixel in fifty to half', () => {
    /** Of the 64 pixels of each block as many as keep the share, from block to block. */
    const red = (share: number) =>
      inMiddle(
        () => dark(0.01),
        (x, y) => {
          const block = (x >> 3) + 20 * (y >> 3)
          const here = Math.floor(64 * share * (block + 1)) - Math.floor(64 * share * block)
          return (x & 7) + 8 * (y & 7) < here
        },
      )!.colour.mean[0] / 0.01
    expect(red(0.0192)).toBeCloseTo(1, 6)
    // Normal noise about its mean, cut at 0: at 2.1 % the mean shows 0.4 % too much (tables of the normal).
    expect(red(0.021)).toBeCloseTo(0.996, 3)
    expect(red(0.48)).toBeGreaterThan(0)
    expect(red(0.52)).toBe(0)
  })

  test('may be half as much or half as much again before the glow: 0.29 of it, as a rectangle', () => {
    const { mean, covariance } = inMiddle(() => dark(0.01))!.colour
    // JCGM 100, 4.3.7: 0.5 / sqrt 3.
    expect(Math.sqrt(covariance[0][0]) / mean[0] / (0.5 / Math.sqrt(3))).toBeCloseTo(1, 1)
  })

  test('has a colour where it stands three standard uncertainties above nothing', () => {
    const spread = (share: number) => {
      const checked = (x: number, y: number) => (((x >> 3) + (y >> 3)) % 2 === 0 ? 1 : -1)
      return inMiddle((x, y) => [0.01, 0.01, 0.01 * (1 + share * checked(x, y))])!
    }
    // Blocks up and down by a share: of n of them, four to a sample, the mean is known to 2 / sqrt(n) of it.
    const n = spread(0).pixels / 64
    const at = (deviations: number) => spread(Math.sqrt(n) / 2 / deviations).tint !== null
    expect([2.85, 3.15].map(at)).toEqual([false, true])
  })
})
