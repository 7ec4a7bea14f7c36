import { describe, expect, test } from 'vitest'
import { encodeTransfer, P3_FROM_SRGB } from '../../../src/colour/rgb-spaces.ts'
import { BASIS } from '../../../src/light/exposure-sweep/response-prior.ts'
import {
  backgroundLight,
  inP3,
  lightOf,
  ratioSd,
} from '../../../src/light/exposure-sweep/sweep-light.ts'
import type { ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import type { Region, StoredImage } from '../../../src/light/image.ts'
import { type Matrix3, type Triple, transform } from '../../../src/numerics/matrix3.ts'

const COVARIANCE: Matrix3 = [
  [0.0004, 0.0001, 0.0002],
  [0.0001, 0.0009, 0.0003],
  [0.0002, 0.0003, 0.0025],
]
const LN: Triple = [-0.5, -2, -4]

describe('light of a sweep', () => {
  const choice = { lnLight: LN, covariance: COVARIANCE } as never
  const codes = { light: [0.1, 0.01, 0.003] } as never

  test('is that at exposure 1 times the exposure, its uncertainty in proportion', () => {
    const { mean, covariance } = lightOf(choice, Math.log(2), codes, true)
    for (const a of [0, 1, 2] as const) {
      expect(mean[a]).toBeCloseTo(2 * Math.exp(LN[a]), 9)
      for (const b of [0, 1, 2] as const)
        expect(covariance[a][b]).toBeCloseTo(mean[a] * mean[b] * COVARIANCE[a][b], 9)
    }
  })

  test('has a blue that was never seen as its codes say, give or take all of it', () => {
    const { mean, covariance } = lightOf(choice, 0, codes, false)
    expect(mean[2]).toBe(0.003)
    expect(covariance[2]).toEqual([0, 0, 0.003 ** 2])
    expect([covariance[0][2], covariance[1][2]]).toEqual([0, 0])
    expect(covariance[0][1]).toBeCloseTo(mean[0] * mean[1] * COVARIANCE[0][1], 9)
    const black = lightOf(choice, 0, { light: [0.1, 0.01, 0] } as never, false)
    expect(black.covariance[2][2]).toBeCloseTo(1e-8, 12)
  })

  test('of an sRGB file is carried to Display P3 with its covariance', () => {
    const own = lightOf(choice, 0, codes, true)
    expect(inP3(own, 'display-p3')).toEqual(own)
    const carried = inP3(own, 'srgb')
    expect(carried.mean).toEqual(transform(P3_FROM_SRGB, own.mean))
    // J V J' by hand for one entry.
    let expected = 0
    for (const a of [0, 1, 2] as const)
      for (const b of [0, 1, 2] as const)
        expected += P3_FROM_SRGB[1][a] * P3_FROM_SRGB[0][b] * own.covariance[a][b]
    expect(carried.covariance[1][0]).toBeCloseTo(expected, 12)
  })

  test('knows the ratio of two channels better where they err together', () => {
    const own = lightOf(choice, 0, codes, true)
    expect(ratioSd(own, 1)).toBeCloseTo(Math.sqrt(0.0004 + 0.0009 - 0.0002), 9)
    expect(ratioSd(own, 2)).toBeCloseTo(Math.sqrt(0.0004 + 0.0025 - 0.0004), 9)
  })
})

describe('light around a swept glow', () => {
  const STRAIGHT = {
    kind: 'channel',
    space: 'display-p3',
    response: {
      kind: 'channel',
      basis: BASIS,
      coefficients: new Array<number>(BASIS.size).fill(0),
    },
  } as unknown as ToneCurve
  const REGION: Region = { shape: 'rectangle', x: 40, y: 40, width: 30, height: 30 }
  const GLOW: Triple = [0.6, 0.06, 0.02]
  /** Bar and surroundings, over a black level that no exposure changes. */
  const frame = (exposure: number, around: Triple, black: Triple) => {
    const size = 112
    const codes = new Float32Array(3 * size * size)
    for (let y = 0; y < size; y++)
      for (let x = 0; x < size; x++) {
        const inside = x >= 34 && x < 76 && y >= 34 && y < 76
        codes.set(
          (inside ? GLOW : around).map((v, c) => encodeTransfer(exposure * v + black[c]!)),
          3 * (y * size + x),
        )
      }
    const image: StoredImage = { width: size, height: size, space: 'display-p3', codes }
    return { image, region: REGION, relativeExposure: 5 * exposure }
  }
  const between = (around: Triple, black: Triple) =>
    backgroundLight(STRAIGHT, frame(1, around, black), frame(1 / 16, around, black), GLOW)

  test('is what changes with the exposure: a black level is none', () => {
    const found = between([0.03, 0.02, 0.01], [0.002, 0.001, 0.003])!
    for (const [c, v] of [0.03, 0.02, 0.01].entries())
      expect(Math.abs(found.mean[c]! / v - 1)).toBeLessThan(0.02)
    for (const a of [0, 1, 2] as const)
      for (const b of [0, 1, 2] as const)
        expect(found.covariance[a][b] / (found.mean[a] * found.mean[b])).toBeCloseTo(0.29 ** 2, 6)
    for (const v of between([0, 0, 0], [0.002, 0.002, 0.002])!.mean)
      expect(Math.abs(v)).toBeLessThan(1e-5)
  })

  test('is never less than none', () => {
    const bright = frame(1, [0.01, 0.01, 0.01], [0, 0, 0])
    const dark = frame(1 / 16, [0.5, 0.01, 0.01], [0, 0, 0])
    expect(backgroundLight(STRAIGHT, bright, dark, GLOW)!.mean[0]).toBe(0)
  })

  test('is not known where the glow fills the picture', () => {
    expect(between(GLOW, [0, 0, 0])).toBeNull()
  })
})
