import { describe, expect, test } from 'vitest'
import { flatFieldOf } from '../../src/light/flat-field.ts'
import { measureGrey } from '../../src/light/grey-reference.ts'
import { CLIPPED, type LightImage, type Region } from '../../src/light/image.ts'
import { measurePatch } from '../../src/light/patch.ts'
import type { LightMap } from '../../src/light/raw-pair/light-map.ts'
import { measureWithoutStrayLight } from '../../src/light/stray-light.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

const SIZE = 96
const REGION: Region = { shape: 'rectangle', x: 16, y: 16, width: 64, height: 64 }

function seen(colour: (x: number, y: number) => Triple): LightImage {
  const rgb = new Float32Array(3 * SIZE * SIZE)
  for (let y = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++) rgb.set(colour(x, y), 3 * (y * SIZE + x))
  return {
    width: SIZE,
    height: SIZE,
    channels: 'camera',
    rgb,
    flags: new Uint8Array(SIZE * SIZE),
  }
}

describe('the limits of a grey card', () => {
  /** Why a card is none; null where it is one. */
  const refusal = (colour: (x: number, y: number) => Triple, region = REGION) => {
    const found = measureGrey(seen(colour), region, { kind: 'daylight', illuminant: 'D65' })
    expect(found.refused).toBe(found.findings.length > 0)
    return found.findings[0]?.code ?? null
  }
  const grey =
    (level: number): (() => Triple) =>
    () => [level, level, level]

  test('a hundred pixels show one, 99 do not', () => {
    expect(refusal(grey(0.4), { ...REGION, width: 10, height: 10 })).toBeNull()
    expect(refusal(grey(0.4), { ...REGION, width: 9, height: 11 })).toBe('too small')
  })

  test('green of a fiftieth of full scale is enough', () => {
    expect(refusal(grey(0.0205))).toBeNull()
    expect(refusal(grey(0.0195))).toBe('dark')
  })

  test('half as much green as the light has is the glow, not a card', () => {
    expect(refusal(() => [0.4, 0.4 * 0.51, 0.2])).toBeNull()
    expect(refusal(() => [0.4, 0.4 * 0.49, 0.2])).toBe('on the glow')
  })

  test('each channel is known to a twentieth of itself', () => {
    /** Blue of 8 x 8 pixels, up and down in fields of two by two: they differ by twice that, at a lag of two. */
    const blue = (share: number) =>
      refusal((x, y) => {
        const up = (((x - 16) >> 4) + ((y - 16) >> 4)) % 2 === 0
        return [0.4, 0.4, 0.4 * (1 + (up ? share : -share))]
      })
    // Half of the mean squared difference over 16 samples (von Neumann 1941): share / sqrt 8.
    expect(blue(0.048 * Math.sqrt(8))).toBeNull()
    expect(blue(0.052 * Math.sqrt(8))).toBe('dark')
  })

  test('a shadow’s edge and two colours are no even card', () => {
    /** Two halves, apart by twice so much in ln. */
    const level = (ln: number) =>
      refusal((x) => {
        const v = 0.3 * Math.exp(x < 48 ? ln : -ln)
        return [v, v, v]
      })
    expect(level(0.285)).toBeNull()
    expect(level(0.31)).toBe('uneven')
    const colour = (ln: number) => refusal((x) => [0.3, 0.3 * Math.exp(x < 48 ? ln : -ln), 0.3])
    expect(colour(0.038)).toBeNull()
    expect(colour(0.041)).toBe('uneven')
  })
})

describe('the mean of a region', () => {
  /** 64 blocks of 8 x 8 pixels that scatter by 1 % (median deviation) in a pattern, one of them off. */
  const mean = (off: number) =>
    measurePatch(
      seen((x, y) => {
        const [column, row] = [(x - 16) >> 3, (y - 16) >> 3]
        const spread = 0.01 * (((3 * column + row) % 5) - 2)
        const v = 0.4 * (1 + (column === 3 && row === 3 ? off : spread))
        return [v, v, v]
      }),
      REGION,
    )

  test('leaves out a block beyond four standard deviations (1.4826 of the median deviation)', () => {
    const sd = 1.4826 * 0.01
    expect(mean(3.9 * sd).usedPixels).toBe(64 * 64)
    expect(mean(-3.9 * sd).usedPixels).toBe(64 * 64)
    expect(mean(4.1 * sd).usedPixels).toBe(63 * 64)
    expect(mean(-4.1 * sd).usedPixels).toBe(63 * 64)
  })

  test('rests on one independent sample in 16 x 16 pixels', () => {
    expect(mean(0).samples).toBe(16)
  })
})

describe('the limits of a white picture', () => {
  const [W, H] = [64, 48]
  function map(light: (x: number, y: number) => Triple, clipped = 0): LightMap {
    const made = {
      width: W,
      height: H,
      cell: 8,
      of: { width: 8 * W, height: 8 * H },
      light: new Float32Array(3 * W * H),
      flags: new Uint8Array(W * H).fill(CLIPPED, 0, clipped),
    }
    for (let y = 0; y < H; y++)
      for (let x = 0; x < W; x++) made.light.set(light(x, y), 3 * (y * W + x))
    return made
  }
  const reason = (of: LightMap) => {
    const found = flatFieldOf(of, 'camera')
    return found.kind === 'refused' ? found.reason : null
  }
  const white = (): Triple => [0.5, 0.5, 0.5]

  test('a cell in a hundred may be clipped', () => {
    expect(reason(map(white, 30))).toBeNull()
    expect(reason(map(white, 31))).toBe('clipped')
  })

  test('green of a fiftieth of full scale is light', () => {
    expect(reason(map(() => [0.5, 0.0205, 0.5]))).toBeNull()
    expect(reason(map(() => [0.5, 0.0195, 0.5]))).toBe('dark')
    expect(reason(map(() => [0, 0.5, 0.5]))).toBe('dark')
  })

  test('what is no lens and no even light is refused', () => {
    /** Left and right apart by twice so much in ln of light, of colour. */
    const level = (ln: number) =>
      reason(
        map((x) => {
          const v = 0.4 * Math.exp(x < W / 2 ? ln : -ln)
          return [v, v, v]
        }),
      )
    expect(level(0.69)).toBeNull()
    expect(level(0.71)).toBe('not even')
    const colour = (ln: number) =>
      reason(map((x) => [0.4, 0.4 * Math.exp(x < W / 2 ? ln : -ln), 0.4]))
    expect(colour(0.0295)).toBeNull()
    expect(colour(0.0305)).toBe('not even')
  })
})

describe('light of lamps before the glow', () => {
  const bar = (add: Triple) =>
    seen((x, y) =>
      x >= 12 && x < 84 && y >= 12 && y < 84 ? [0.4 + add[0], 0.04 + add[1], 0.004 + add[2]] : add,
    )
  const told = (
    lamp: Triple,
    region: Region = { ...REGION, x: 24, y: 24, width: 48, height: 48 },
  ) => {
    const result = measureWithoutStrayLight(
      bar(lamp),
      seen(() => lamp),
      region,
      {
        chromaSubsampled: false,
        exposureRatio: 1,
      },
    )
    return result.kind === 'measured' ? result.findings.map(({ code }) => code) : result.reason
  }

  test('is worth a word from 3 % of the glow on, in red or green', () => {
    expect(told([0.0118, 0, 0])).toEqual([])
    expect(told([0.0122, 0, 0])).toEqual(['stray light'])
    expect(told([0, 0.00118, 0])).toEqual([])
    expect(told([0, 0.00122, 0])).toEqual(['stray light'])
  })

  test('is more than the glow where it has more green', () => {
    expect(told([0, 0.0399, 0])).toEqual(['stray light'])
    expect(told([0, 0.0401, 0])).toEqual(['stray light exceeds glow'])
  })

  test('is known again to a twentieth: lamps flicker', () => {
    const options = { chromaSubsampled: false, exposureRatio: 1 }
    const lamp: Triple = [0.1, 0.02, 0]
    const result = measureWithoutStrayLight(
      bar(lamp),
      seen(() => lamp),
      REGION,
      options,
    )
    if (result.kind !== 'measured') throw new Error(result.reason)
    expect(Math.sqrt(result.stray.colour.covariance[0][0])).toBeCloseTo(0.05 * 0.1, 6)
    expect(Math.sqrt(result.stray.colour.covariance[1][1])).toBeCloseTo(0.05 * 0.02, 6)
  })
})
