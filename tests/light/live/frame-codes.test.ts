import { describe, expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { type FramePixels, frameCodes } from '../../../src/light/live/frame-codes.ts'
import { frameMean } from '../../../src/light/live/frame-mean.ts'
import { nextExposure, sweepExposures } from '../../../src/light/live/longest-exposure.ts'
import { wholeHalfCycles } from '../../../src/light/live/mains.ts'
import { Rolling } from '../../../src/light/live/rolling.ts'

/** A 2x2 frame of one colour. */
const frame = (
  y: number,
  u: number,
  v: number,
  matrix: string,
  fullRange: boolean,
): FramePixels => ({
  format: 'I420',
  width: 2,
  height: 2,
  bytes: Uint8Array.of(y, y, y, y, u, v),
  planes: [
    { offset: 0, stride: 2 },
    { offset: 4, stride: 1 },
    { offset: 5, stride: 1 },
  ],
  colour: { matrix, fullRange },
})
const rgb = (pixels: FramePixels) => [...frameCodes(pixels).codes.slice(0, 3)].map((v) => 255 * v)

describe('codes of a frame', () => {
  // ITU-R BT.801-1, table 1 (from memory): 100 % colour bars as limited-range BT.601 codes.
  test.each([
    ['white', 235, 128, 128, [255, 255, 255]],
    ['red', 81, 90, 240, [255, 0, 0]],
    ['yellow', 210, 16, 146, [255, 255, 0]],
    ['black', 16, 128, 128, [0, 0, 0]],
  ] as const)('%s bar of BT.601 comes back', (_, y, u, v, expected) => {
    // Codes are whole: half a code of chroma is 1.1 codes of a channel.
    rgb(frame(y, u, v, 'smpte170m', false)).forEach((value, c) => {
      expect(Math.abs(value - expected[c]!)).toBeLessThan(1.5)
    })
  })

  test('BT.709 red (63, 102, 240 limited, from memory) is red by its own matrix only', () => {
    const [r, g] = rgb(frame(63, 102, 240, 'bt709', false)) as [number, number, number]
    expect(r).toBeGreaterThan(253)
    expect(g).toBeLessThan(2)
    expect(rgb(frame(63, 102, 240, 'smpte170m', false))[0]).toBeLessThan(240)
  })

  test('full range stretches nothing', () => {
    expect(rgb(frame(128, 128, 128, 'smpte170m', true))[1]).toBeCloseTo(128, 3)
  })

  test('NV12 and I420 of the same picture agree', () => {
    const planar = frame(90, 100, 200, 'bt709', false)
    const pairs: FramePixels = {
      ...planar,
      format: 'NV12',
      planes: [
        { offset: 0, stride: 2 },
        { offset: 4, stride: 2 },
      ],
    }
    expect(frameCodes(pairs).codes).toEqual(frameCodes(planar).codes)
  })

  test('a mean is in linear light: black and white in equal parts give one half', () => {
    const codes = Float32Array.of(0, 0, 0, 1, 1, 1)
    const mean = frameMean({ width: 2, height: 1, space: 'srgb', codes })
    expect(mean.linear[0]).toBeCloseTo(0.5, 6)
    expect(mean.clippedShare).toBe(0.5)
    expect(mean.greenFloorShare).toBe(0.5)
  })
})

describe('rolling value', () => {
  const run = (level: (i: number) => number, value: (i: number) => number = () => -2) => {
    const rolling = new Rolling()
    for (let i = 0; i < 30; i++) rolling.add(value(i), level(i))
    return rolling.get()!
  }

  test('one wild frame does not move the median', () => {
    expect(
      run(
        () => 0,
        (i) => (i === 9 ? 5 : -2),
      ).value,
    ).toBe(-2)
  })

  test('a steady drift is no noise', () => {
    expect(
      run(
        () => 0,
        (i) => -2 + 0.01 * i,
      ).standardUncertainty,
    ).toBeLessThan(0.003)
  })

  test('lamps that beat with the frames are flicker, a moving hand is moving, a glow is steady', () => {
    expect(run((i) => (i % 2 ? 0.08 : -0.08)).motion).toBe('flicker')
    expect(run((i) => 0.05 * i).motion).toBe('moving')
    expect(run((i) => 0.002 * Math.sin(i)).motion).toBe('steady')
  })
})

describe('exposure', () => {
  test('whole half-cycles: 35 ms in 50 Hz light is 30 ms, in 60 Hz light 33.3 ms', () => {
    expect(wholeHalfCycles(0.035, 50)).toBeCloseTo(0.03, 9)
    expect(wholeHalfCycles(0.035, 60)).toBeCloseTo(4 / 120, 9)
    expect(wholeHalfCycles(0.004, 50)).toBe(0.004)
  })

  test('the search ends below the top, from either side', () => {
    for (const start of [1, 400]) {
      let now = start
      let steps = 0
      const light = (e: number) => e / 100
      for (;;) {
        const next = nextExposure(now, Math.min(light(now), 1), light(now) > 1 ? 1 : 0, [1, 400])
        if (next === null) break
        now = next
        expect(++steps).toBeLessThan(12)
      }
      expect(light(now)).toBeGreaterThan(0.6)
      expect(light(now)).toBeLessThan(1)
    }
  })

  test('a sweep begins and ends with the same exposure and stays within the range', () => {
    const list = sweepExposures(100, [1, 150])
    expect(list[0]).toBe(100)
    expect(list.at(-1)).toBe(100)
    expect(Math.max(...list)).toBeLessThanOrEqual(150)
    expect(Math.min(...list)).toBeGreaterThanOrEqual(1)
  })
})

test('a frame of BT.2020 primaries is carried to those of sRGB (ITU-R BT.2407-0, 2.1)', () => {
  // BT.2020: Y = 0.2627 R + 0.678 G + 0.0593 B, Cb = (B - Y) / 1.8814, Cr = (R - Y) / 1.4746.
  const shown = (light: readonly number[]) => {
    const [r, g, b] = light.map(encodeTransfer) as [number, number, number]
    const y = 0.2627 * r + 0.678 * g + 0.0593 * b
    const bytes = [y, 128 / 255 + (b - y) / 1.8814, 128 / 255 + (r - y) / 1.4746]
    const [yy, u, v] = bytes.map((value) => Math.round(255 * value)) as [number, number, number]
    const pixels = frame(yy, u, v, 'bt2020-ncl', true)
    const colour = { ...pixels.colour, primaries: 'bt2020' }
    return [...frameCodes({ ...pixels, colour } as FramePixels).codes.slice(0, 3)].map(
      decodeTransfer,
    )
  }
  // By hand: 1.6605 x 0.4 - 0.5876 x 0.2 - 0.0728 x 0.1, and so on; 8-bit codes are 1 to 2 %.
  for (const [light, expected] of [
    [
      [0.4, 0.2, 0.1],
      [0.5394, 0.1759, 0.0845],
    ],
    [
      [0.3, 0.3, 0.3],
      [0.3, 0.3, 0.3],
    ],
  ] as const)
    for (const [c, value] of shown(light).entries())
      expect(Math.abs(value / expected[c]! - 1)).toBeLessThan(0.04)
  // What lies outside is cut.
  const [, green] = shown([0.5, 0.02, 0.02])
  expect(green).toBe(0)
})
