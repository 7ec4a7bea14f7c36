import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { placeDependence } from '../../../src/light/exposure-sweep/local-tone.ts'
import type { Response } from '../../../src/light/exposure-sweep/response.ts'
import { BASIS } from '../../../src/light/exposure-sweep/response-prior.ts'
import type { Region } from '../../../src/light/image.ts'

const LOSSLESS = { luma: 1, chroma: 1 }
const STRAIGHT: Response = {
  kind: 'channel',
  basis: BASIS,
  coefficients: new Array<number>(BASIS.size).fill(0),
}
/** Five blocks each way. */
const GRID = 5
type Shape = (u: number, v: number) => number

interface Frame {
  readonly level: number
  /** ln of the light by place, -1 to 1 across and down, on top of the level. */
  readonly shape?: Shape
  /** Every other pixel so much brighter, and darker, than its block. */
  readonly noise?: number
  readonly side?: number
}

/** Red light of a region that is even in each of its blocks; the region lies off the corner. */
function frameOf({ level, shape = () => 0, noise = 0, side = 40 }: Frame) {
  const [left, top] = [7, 3]
  const [width, height] = [side + 12, side + 9]
  const codes = new Float32Array(3 * width * height).fill(0.9)
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++) {
      const [i, j] = [Math.floor((GRID * x) / side), Math.floor((GRID * y) / side)]
      const light = level * Math.exp(shape(i / 2 - 1, j / 2 - 1))
      const sign = (x + y) % 2 === 0 ? 1 : -1
      codes[3 * ((y + top) * width + x + left)] = encodeTransfer(light * (1 + sign * noise))
    }
  const region: Region = { shape: 'rectangle', x: left, y: top, width: side, height: side }
  return { image: { width, height, space: 'display-p3' as const, codes }, region }
}
const found = (
  frames: readonly Frame[],
  { response = STRAIGHT, brightest = 0, steps = LOSSLESS } = {},
) => placeDependence(frames.map(frameOf), response, brightest, steps)
const levels = [0.4, 0.2, 0.1, 0.05]
/** Four frames, of which the third is shaped. */
const third = (shape: Shape) => levels.map((level, k) => (k === 2 ? { level, shape } : { level }))

describe('light by the place in the region', () => {
  test('is alike from frame to frame where one curve holds, however uneven the glow is', () => {
    const glow: Shape = (u, v) => 0.1 * u - 0.05 * v
    const place = found(levels.map((level) => ({ level, shape: glow })))
    expect(place.shapeLn).toBeCloseTo(0, 4)
    expect(place.totalLn).toBeCloseTo(0, 4)
    // Places -1, -1/2, 0, 1/2, 1 have a mean square of one half.
    expect(place.unevenLn).toBeCloseTo(Math.sqrt((0.1 ** 2 + 0.05 ** 2) / 2), 4)
  })

  test.each<readonly [string, Shape, number]>([
    ['across', (u) => 0.1 * u, 0.1 * Math.sqrt(0.5)],
    ['down', (_, v) => 0.1 * v, 0.1 * Math.sqrt(0.5)],
    // Squares 1, 1/4, 0, 1/4, 1 about their mean of one half: variance 0.175 each way.
    ['as a dome', (u, v) => 0.1 * (u * u + v * v), 0.1 * Math.sqrt(0.35)],
  ])('differs in one frame %s: seen there, less its part in the mean of four', (_, shape, rms) => {
    const place = found(third(shape))
    expect(place.shapeLn).toBeCloseTo(0.75 * rms, 4)
    expect(place.totalLn).toBeCloseTo(0.75 * rms, 4)
    expect(place.varianceRatio).toBeGreaterThan(1e4)
  })

  test('may differ by what is neither slope nor dome: no shape of tone mapping', () => {
    const place = found(third((u, v) => 0.1 * u * v))
    expect(place.shapeLn).toBeCloseTo(0, 4)
    expect(place.totalLn).toBeCloseTo(0.75 * 0.1 * 0.5, 4)
    expect(place.varianceRatio).toBeLessThan(0.01)
  })

  test('has a shape as sure as it stands out of the rest, by degrees of freedom', () => {
    const { varianceRatio } = found(third((u, v) => 0.1 * u + 0.04 * u * v))
    // Of 24 three are the shapes': mean squares 0.005 and 0.0004.
    expect(varianceRatio / (0.005 / 3 / (0.0004 / 21))).toBeCloseTo(1, 2)
  })

  test('is counted by the tone curve that was found', () => {
    // Light is the nominal one to the power of 1.3: straight in ln from the first knot on.
    const bent = STRAIGHT.coefficients.map((_, j) => 0.3 * (BASIS.first + (j - 1) * BASIS.spacing))
    const place = found(
      levels.map((level) => ({ level: level / 8, shape: (u: number) => 0.1 * u })),
      { response: { ...STRAIGHT, coefficients: bent } },
    )
    expect(place.unevenLn / (1.3 * 0.1 * Math.sqrt(0.5))).toBeCloseTo(1, 2)
  })
})

describe('what noise and coding would make of it', () => {
  const noisy = (noise: number, side: number, steps = LOSSLESS) =>
    found(
      levels.map((level) => ({ level, noise, side })),
      { steps },
    ).expectedLn

  test('is the noise of a block’s mean, of which sixteen pixels are one', () => {
    // Of 40 x 40 pixels a block has 64: four independent ones.
    expect(noisy(0.4, 40) / (0.4 / Math.sqrt(4))).toBeCloseTo(1, 1)
    expect(noisy(0.4, 80) / (0.4 / Math.sqrt(16))).toBeCloseTo(1, 1)
  })

  test('is no less than what the steps of the file leave open', () => {
    const [fine, coarse] = [LOSSLESS, { luma: 12, chroma: 12 }].map((steps) =>
      noisy(0.05, 80, steps),
    )
    expect(coarse).toBeGreaterThan(1.5 * fine!)
  })

  test('decides which frame shows most', () => {
    const shape: Shape = (u) => 0.1 * u
    // Twice the shape in ten times the noise shows less.
    const frames = [
      { level: 0.2 },
      { level: 0.2 },
      { level: 0.2, shape },
      { level: 0.2, shape: (u: number) => -0.2 * u, noise: 0.8 },
    ]
    expect(found(frames).expectedLn).toBeLessThan(0.1)
  })
})

describe('nothing is said', () => {
  const shape: Shape = (u) => 0.1 * u
  const three = (last: Frame) => found([{ level: 0.4 }, { level: 0.2 }, last])
  const NOTHING = { shapeLn: 0, totalLn: 0, varianceRatio: 0, unevenLn: 0 }

  test('by fewer than three frames', () => {
    expect(found([{ level: 0.4 }, { level: 0.2, shape }])).toMatchObject(NOTHING)
    expect(three({ level: 0.1, shape }).shapeLn).toBeGreaterThan(0.03)
  })

  test('of a region of less than twenty pixels', () => {
    const of = (side: number) =>
      found([
        { level: 0.4, side },
        { level: 0.2, side },
        { level: 0.1, shape, side },
      ])
    expect(of(19)).toMatchObject(NOTHING)
    expect(of(20).shapeLn).toBeGreaterThan(0.03)
  })

  test('of blocks below code 25', () => {
    const dark = (code: number) => {
      const frame = frameOf({ level: 0.1 })
      frame.image.codes.fill(code / 255)
      const bright = [0.4, 0.2].map((level) => frameOf({ level, shape }))
      return placeDependence([...bright, frame], STRAIGHT, 0, LOSSLESS)
    }
    expect(dark(24.5)).toMatchObject(NOTHING)
    expect(dark(25.5).shapeLn).toBeGreaterThan(0.02)
  })

  test('of blocks brighter than the curve was seen, but for 3 %', () => {
    const above = (ln: number) =>
      found([{ level: 0.4 * Math.exp(ln) }, { level: 0.2 }, { level: 0.1, shape }], {
        brightest: Math.log(0.4),
      })
    expect(above(0.033)).toMatchObject(NOTHING)
    expect(above(0.027).shapeLn).toBeGreaterThan(0.03)
  })
})
