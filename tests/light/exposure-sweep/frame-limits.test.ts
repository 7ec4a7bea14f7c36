import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { balanceMoved } from '../../../src/light/exposure-sweep/balance-watch.ts'
import { checkToneCurve } from '../../../src/light/exposure-sweep/check-tone-curve.ts'
import { nominalLevels, regionCodes } from '../../../src/light/exposure-sweep/frame-levels.ts'
import { BASIS } from '../../../src/light/exposure-sweep/response-prior.ts'
import type { ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import { usableFrames, wrongSlope } from '../../../src/light/exposure-sweep/usable-frames.ts'
import type { Region, StoredImage } from '../../../src/light/image.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'

const LOSSLESS = { luma: 1, chroma: 1 }
const STRAIGHT = {
  kind: 'channel',
  basis: BASIS,
  coefficients: new Array<number>(BASIS.size).fill(0),
} as const

/** A code up or down, each channel by itself, which averages the rounding of codes away (Widrow 1956). */
function dithered(image: StoredImage): StoredImage {
  const sign = (bit: number) => (bit % 2 === 0 ? 1 : -1) / 255
  const codes = image.codes.map((code, i) => {
    const at = Math.floor(i / 3)
    const [x, y] = [at % image.width, Math.floor(at / image.width)]
    return code + sign([x, y, x + y][i % 3]!)
  })
  return { ...image, codes }
}

/** An even picture, some of its first pixels of another colour. */
function even(width: number, height: number, colour: Triple, first = 0, other = colour) {
  const codes = new Float32Array(3 * width * height)
  for (let i = 0; i < width * height; i++) codes.set(i < first ? other : colour, 3 * i)
  const image: StoredImage = { width, height, space: 'display-p3', codes }
  return image
}
const whole = ({ width, height }: StoredImage): Region => ({
  shape: 'rectangle',
  x: 0,
  y: 0,
  width,
  height,
})

describe('a photo of a sweep', () => {
  /** Whether photos of these exposures count; of the last so many pixels of 1600 are white. */
  const frames = (exposures: readonly number[], clipped = 0) => {
    const list = exposures.map((ln, k) => ({
      image: even(40, 40, [0.6, 0.3, 0.2], k === exposures.length - 1 ? clipped : 0, [1, 1, 1]),
      relativeExposure: Math.exp(ln),
    }))
    const places = list.map(({ image }) => ({ region: whole(image), dx: 0, dy: 0 }))
    return usableFrames(list as never, places, LOSSLESS)
  }

  test('is clipped from a hundredth of its pixels on', () => {
    const status = (clipped: number) => frames([0, -1], clipped).reports[1]!.status
    expect([15, 17].map(status)).toEqual(['used', 'clipped'])
  })

  test('repeats another within 3 % of its exposure', () => {
    const repeated = (ln: number) => frames([0, -1, -2, -3, ln]).repeated
    expect([-0.0315, -0.0285, 0.0285, 0.0315].map(repeated)).toEqual([false, true, true, false])
    expect(frames([0, -1, -2, 0]).repeated).toBe(false)
  })

  test('has no channel that is at the floor in a fiftieth of its pixels, or below code 5', () => {
    const green = (colour: Triple, first = 0) => {
      const image = even(50, 40, colour, first, [0.6, 0, 0.2])
      const codes = regionCodes(image, whole(image), [1, 1, 1])
      return nominalLevels(codes, LOSSLESS).nominal[1] !== null
    }
    expect([38, 42].map((first) => green([0.6, 0.3, 0.2], first))).toEqual([true, false])
    expect([4.8, 5.2].map((code) => green([0.6, code / 255, 0.2]))).toEqual([false, true])
  })

  test('follows its exposure by a slope that a tone curve may have', () => {
    const wrong = (slope: number, step = Math.LN2, top = -2) => {
      const level = (ln: number) => ({
        lnExposure: ln,
        lnGain: [0, 0, 0],
        time: 0,
        nominal: [top + slope * ln, -4, -5],
        uncertainty: [0.01, 0.01, 0.01],
      })
      return wrongSlope([level(0), level(-step)] as never, [0, 1]) !== null
    }
    expect([0.076, 0.084, 4.8, 5.2].map((slope) => wrong(slope))).toEqual([
      true,
      false,
      false,
      true,
    ])
    // Near the top any may be flat; where exposures hardly differ nothing is told.
    expect([-0.72, -0.68].map((top) => wrong(0.05, Math.LN2, top))).toEqual([true, false])
    expect([0.29, 0.31].map((step) => wrong(0, step))).toEqual([false, true])
  })
})

describe('surroundings that show a balance at work', () => {
  const GLOW: Region = { shape: 'rectangle', x: 0, y: 0, width: 30, height: 10 }
  /** Two photos of a wall, its red brighter in the second by `ln`. */
  const change = (ln: number, { code = 0.5, width = 200 } = {}) => {
    const linear = ((code + 0.055) / 1.055) ** 2.4
    const photo = (red: number) => ({
      image: dithered(even(width, 10, [encodeTransfer(linear * Math.exp(red)), code, code])),
    })
    return balanceMoved(
      [photo(0), photo(ln)],
      [{ region: GLOW }, { region: GLOW }],
      LOSSLESS,
      STRAIGHT,
    )
  }

  test('change by 0.06 in ln(G/R) at least', () => {
    expect(change(0.057)).toBe(0)
    expect(change(0.063)).toBeCloseTo(0.063, 3)
    expect(change(-0.063)).toBeCloseTo(0.063, 3)
  })

  test('are bright enough, above code 38, and four hundred pixels', () => {
    expect([0.145, 0.155].map((code) => change(0.2, { code }) > 0)).toEqual([false, true])
    // 24 pixels off the glow: columns from 54 on, of ten pixels each.
    expect([93, 94].map((width) => change(0.2, { width }) > 0)).toEqual([false, true])
  })
})

describe('a check of a tone curve', () => {
  const curve = { kind: 'channel', space: 'display-p3', response: STRAIGHT } as unknown as ToneCurve
  /** Two photos so many stops apart, the second brighter than that by `ln`. */
  const check = (stops: number, ln = 0) => {
    // Something to be placed by: a glow in the dark.
    const photo = (gain: number) => {
      const image = even(96, 96, [0.02, 0.02, 0.02])
      for (let y = 24; y < 72; y++)
        for (let x = 24; x < 72; x++)
          image.codes.set(
            [0.6, 0.3, 0.2].map((light) => encodeTransfer(light * gain)),
            3 * (y * 96 + x),
          )
      return dithered(image)
    }
    const frames = [
      { image: photo(1), relativeExposure: 1 },
      { image: photo(2 ** -stops * Math.exp(ln)), relativeExposure: 2 ** -stops },
    ]
    const region: Region = { shape: 'rectangle', x: 32, y: 32, width: 32, height: 32 }
    return checkToneCurve(curve, frames as never, region, LOSSLESS)
  }

  test('takes exposures a stop and a half apart', () => {
    expect(check(1.44)).toEqual({ kind: 'not possible', reason: 'exposures do not differ' })
    expect(check(1.56)).toMatchObject({ kind: 'checked', agrees: true })
  })

  test('passes within two and a half times what exposures of 2 % each leave open', () => {
    // Either photo errs: 2.5 times the root of two times 0.02, and a little for noise and coding.
    const allowed = 2.5 * Math.SQRT2 * 0.02
    for (const sign of [1, -1]) {
      expect(check(2, sign * 0.97 * allowed)).toMatchObject({ agrees: true })
      expect(check(2, sign * 1.08 * allowed)).toMatchObject({ agrees: false })
    }
  })
})
