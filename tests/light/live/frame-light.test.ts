import { describe, expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { cropped } from '../../../src/light/live/cropped.ts'
import { evenBox, type FramePixels, frameCodes } from '../../../src/light/live/frame-codes.ts'
import { frameMean } from '../../../src/light/live/frame-mean.ts'
import { liveBlur } from '../../../src/light/live/live-blur.ts'
import { sweepExposures } from '../../../src/light/live/longest-exposure.ts'
import { wholeHalfCycles } from '../../../src/light/live/mains.ts'
import { Rolling } from '../../../src/light/live/rolling.ts'
import { normalCdf } from '../../../src/numerics/heavy-tails.ts'
import { normal, uniform } from '../pictures.ts'

const [WIDTH, HEIGHT] = [96, 64]

/** Lines of a plane with something behind each. */
const PADDING = 6

/** A frame whose red goes with the place, as a decoder gives it. */
function frameOf(
  format: FramePixels['format'],
  red: (x: number, y: number) => number,
  [width, height] = [WIDTH, HEIGHT],
): FramePixels {
  const light = (x: number, y: number) => 255 * encodeTransfer(red(x, y))
  if (format === 'RGBA' || format === 'BGRA') {
    const stride = 4 * width + PADDING
    const bytes = new Uint8Array(8 + stride * height)
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const at = 8 + y * stride + 4 * x
        bytes[at + (format === 'RGBA' ? 0 : 2)] = Math.round(light(x, y))
        bytes[at + 1] = 10
        bytes[at + 3] = 255
      }
    const planes = [{ offset: 8, stride }]
    return { format, width, height, bytes, planes, colour: { matrix: 'rgb', fullRange: true } }
  }
  // Full range; all of the picture in luma, so that no detail is lost at half resolution.
  const stride = width + PADDING
  const between = format === 'NV12' ? 2 : 1
  const chroma = { offset: 5 + stride * height, stride: (width / 2) * between + PADDING }
  const bytes = new Uint8Array(chroma.offset + chroma.stride * height).fill(128, chroma.offset)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) bytes[5 + y * stride + x] = Math.round(light(x, y))
  const third = { ...chroma, offset: chroma.offset + (chroma.stride * height) / 2 }
  const planes = [{ offset: 5, stride }, chroma, ...(format === 'NV12' ? [] : [third])]
  return { format, width, height, bytes, planes, colour: { matrix: 'bt709', fullRange: true } }
}

describe('every second or third pixel of a frame', () => {
  test.each(['RGBA', 'BGRA', 'I420', 'NV12'] as const)(
    '%s is that of the whole frame',
    (format) => {
      const draw = uniform(5)
      const frame = frameOf(format, () => 0.1 + 0.5 * draw())
      const whole = frameCodes(frame)
      expect([whole.width, whole.height]).toEqual([WIDTH, HEIGHT])
      for (const step of [2, 3]) {
        const some = frameCodes(frame, step)
        expect([some.width, some.height]).toEqual([
          Math.floor(WIDTH / step),
          Math.floor(HEIGHT / step),
        ])
        const expected = Array.from(some.codes, (_, i) => {
          const [x, y] = [Math.floor(i / 3) % some.width, Math.floor(i / 3 / some.width)]
          return whole.codes[3 * step * (y * WIDTH + x) + (i % 3)]
        })
        expect([...some.codes]).toEqual(expected)
      }
    },
  )

  test('cannot be had without planes', () => {
    const { planes, ...frame } = frameOf('I420', () => 0.3)
    expect(() => frameCodes({ ...frame, planes: [] })).toThrow('without planes')
    expect(() => frameCodes({ ...frame, planes: planes.slice(0, 2) })).toThrow('I420 without its')
    expect(() => frameCodes({ ...frame, format: 'NV12', planes: planes.slice(0, 1) })).toThrow(
      'NV12 without its',
    )
  })
})

test('a box grows to even edges, and no further than the picture', () => {
  const box = (left: number, top: number, right: number, bottom: number) =>
    evenBox({ left, top, right, bottom }, 101, 75)
  expect(box(3, 5, 9, 11)).toEqual({ left: 2, top: 4, right: 10, bottom: 12 })
  expect(box(4, 6, 10, 12)).toEqual({ left: 4, top: 6, right: 10, bottom: 12 })
  expect(box(90, 70, 101, 75)).toEqual({ left: 90, top: 70, right: 100, bottom: 74 })
})

test('a box of a picture is a picture of its own', () => {
  const codes = Float32Array.from({ length: 3 * 7 * 5 }, (_, i) => i)
  const image = { width: 7, height: 5, space: 'display-p3' as const, codes }
  const part = cropped(image, { left: 2, top: 1, right: 5, bottom: 3 })
  expect(part).toMatchObject({ width: 3, height: 2, space: 'display-p3' })
  const first = (x: number, y: number) => 3 * (7 * y + x)
  expect([...part.codes]).toEqual(
    [1, 2].flatMap((y) => Array.from({ length: 9 }, (_, i) => first(2, y) + i)),
  )
})

describe('the mean of a frame', () => {
  const mean = (...codes: readonly number[]) =>
    frameMean({
      width: codes.length / 3,
      height: 1,
      space: 'srgb',
      codes: Float32Array.from(codes, (code) => code / 255),
    })

  test('is that of linear light, channel by channel', () => {
    const { linear, pixels } = mean(200, 50, 10, 100, 150, 20)
    expect(pixels).toBe(2)
    for (const [c, [a, b]] of [
      [200, 100],
      [50, 150],
      [10, 20],
    ].entries()) {
      const expected = (decodeTransfer(a! / 255) + decodeTransfer(b! / 255)) / 2
      expect(linear[c]! / expected).toBeCloseTo(1, 2)
    }
    expect(mean()).toMatchObject({ linear: [0, 0, 0], pixels: 0, clippedShare: 0 })
  })

  test('counts pixels with any channel at the top, and with green at the floor', () => {
    const top = mean(255, 9, 9, 9, 255, 9, 9, 9, 255, 254, 254, 254)
    expect([top.clippedShare, top.greenFloorShare]).toEqual([0.75, 0])
    const floor = mean(0, 1, 0, 9, 0, 9, 9, 0, 9, 0, 9, 0)
    expect([floor.clippedShare, floor.greenFloorShare]).toEqual([0, 0.5])
  })
})

describe('the blur across outlines', () => {
  const bar =
    (sd: number, level = 0.5) =>
    (x: number, y: number) =>
      level *
      normalCdf((x - 24.5) / sd) *
      normalCdf((72.5 - x) / sd) *
      normalCdf((y - 16.5) / sd) *
      normalCdf((48.5 - y) / sd)

  test.each(['RGBA', 'BGRA', 'I420', 'NV12'] as const)(
    'is found in %s, along rows and columns',
    (format) => {
      const blur = liveBlur(frameOf(format, bar(2)))
      expect(blur / 2).toBeGreaterThan(0.95)
      expect(blur / 2).toBeLessThan(1.15)
      // Upright outlines alone, and level ones alone.
      for (const edge of [
        (x: number) => 0.5 * normalCdf((x - 40.5) / 2),
        (_: number, y: number) => 0.5 * normalCdf((y - 30.5) / 2),
      ])
        expect(liveBlur(frameOf(format, edge)) / 2).toBeCloseTo(1.05, 1)
    },
  )

  test('is not looked for in the dark, nor where the glow is overexposed', () => {
    expect(liveBlur(frameOf('RGBA', bar(2, 0.017)))).toBeNaN()
    expect(liveBlur(frameOf('RGBA', bar(2, 0.024)))).toBeGreaterThan(1.5)
    const step = (level: number) => (x: number) => level * normalCdf((x - 40.5) / 2)
    expect(liveBlur(frameOf('RGBA', step(0.93)))).toBeGreaterThan(1.5)
    expect(liveBlur(frameOf('RGBA', step(0.97)))).toBeNaN()
  })

  test('is that of light that falls to a quarter at least: else it is a course of the glow', () => {
    const step = (rest: number) => (x: number) =>
      0.5 * (rest + (1 - rest) * normalCdf((x - 40.5) / 2))
    expect(liveBlur(frameOf('RGBA', step(0.22)))).toBeGreaterThan(1.5)
    expect(liveBlur(frameOf('RGBA', step(0.28)))).toBeNaN()
  })
})

describe('the median over frames', () => {
  test('is known as 1.253 of its scatter over the root of their number', () => {
    const draw = normal(3)
    const rolling = new Rolling()
    const values = Array.from({ length: 30 }, () => -2 + 0.02 * draw())
    for (const value of values) rolling.add(value, 0)
    const { value, standardUncertainty, frames } = rolling.get()!
    expect(frames).toBe(30)
    const sorted = values.toSorted((a, b) => a - b)
    expect(value).toBeCloseTo((sorted[14]! + sorted[15]!) / 2, 12)
    // Kendall & Stuart, 1, ch. 14; a robust scatter of 29 steps is known to some 20 %.
    expect(standardUncertainty / ((1.253 * 0.02) / Math.sqrt(30))).toBeGreaterThan(0.7)
    expect(standardUncertainty / ((1.253 * 0.02) / Math.sqrt(30))).toBeLessThan(1.4)
  })

  test('is that of the last thirty, and of none once it is cleared', () => {
    const rolling = new Rolling()
    for (let i = 0; i < 45; i++) rolling.add(i, i)
    expect(rolling.get()).toMatchObject({ value: 29.5, frames: 30 })
    rolling.clear()
    expect(rolling.get()).toBeNull()
    for (let i = 0; i < 3; i++) rolling.add(-1, 0)
    expect(rolling.get()).toMatchObject({ value: -1, standardUncertainty: 0, motion: 'steady' })
  })
})

describe('exposures of a live sweep', () => {
  test('climb the shoulder in quarters of a stop to one and a half, and go down in halves', () => {
    const list = sweepExposures(1, [0, 100], 2)
    const stops = list.map((exposure) => Math.log2(exposure))
    const expected = [0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, -0.5, -1, -1.5, -2, 0]
    expect(stops).toEqual(expected.map((stop) => expect.closeTo(stop, 9)))
    expect(Math.min(...sweepExposures(1, [0, 100]))).toBeCloseTo(2 ** -7, 9)
    // The ends of what can be set are still in it.
    expect(sweepExposures(1, [0.5, 2 ** 0.25])).toHaveLength(5)
  })

  test('hold whole half-cycles of the mains, also where rounding makes a hair less', () => {
    expect(wholeHalfCycles(3 / 100, 50)).toBeCloseTo(0.03, 12)
    expect(wholeHalfCycles(0.3 / 10, 50)).toBeCloseTo(0.03, 12)
    expect(wholeHalfCycles(0.01, 50)).toBeCloseTo(0.01, 12)
    expect(wholeHalfCycles(0.0099, 50)).toBe(0.0099)
    expect(wholeHalfCycles(0.0199, 50)).toBeCloseTo(0.01, 12)
  })
})
