import { describe, expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer, linearP3FromSrgb } from '../../../src/colour/rgb-spaces.ts'
import { type FramePixels, frameCodes } from '../../../src/light/live/frame-codes.ts'
import { liveBlur } from '../../../src/light/live/live-blur.ts'
import {
  LIVE_CLIPPED,
  LIVE_DARK,
  LIVE_EDGE,
  LIVE_READ,
  LiveCells,
} from '../../../src/light/live/live-cells.ts'
import { normalCdf } from '../../../src/numerics/heavy-tails.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { uniform } from '../pictures.ts'

const [WIDTH, HEIGHT] = [120, 80]
const FULL = { matrix: 'rgb', fullRange: true }

type Codes = readonly [red: number, green: number]
const GLOW: Codes = [200, 40]

/** Red and green in codes of sRGB, pixel by pixel. */
function rgbFrame(
  codes: (x: number, y: number) => Codes,
  [width, height] = [WIDTH, HEIGHT],
): FramePixels {
  const bytes = new Uint8Array(4 * width * height)
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i += 4) bytes.set(codes(x, y), i)
  const planes = [{ offset: 0, stride: 4 * width }]
  return { format: 'RGBA', width, height, bytes, planes, colour: FULL }
}
const cellsOf = (...frames: readonly FramePixels[]) => {
  const cells = new LiveCells(WIDTH / 2)
  for (const frame of frames) cells.add(frame)
  return cells
}
const p3 = ([r, g]: Codes) =>
  linearP3FromSrgb([decodeTransfer(r / 255), decodeTransfer(g / 255), 0])
const MIDDLE = 20 * (WIDTH / 2) + 30

describe('a cell of a frame in planes', () => {
  const draw = uniform(3)
  const between = (low: number, high: number) => Math.round(low + (high - low) * draw())
  /** Lines longer than the picture, and something before it: as decoders give it. */
  function planarFrame(format: 'I420' | 'NV12', matrix: string, fullRange: boolean): FramePixels {
    const [start, stride] = [12, WIDTH + 6]
    const chromaStride = format === 'NV12' ? WIDTH + 10 : WIDTH / 2 + 5
    const u = { offset: start + stride * HEIGHT, stride: chromaStride }
    const v = { offset: u.offset + chromaStride * (HEIGHT / 2), stride: chromaStride }
    const bytes = new Uint8Array(v.offset + (format === 'NV12' ? 0 : chromaStride * HEIGHT))
    for (let i = 0; i < u.offset; i++) bytes[i] = between(90, 120)
    // Chroma of a glow: little blue, much red.
    for (let i = u.offset; i < bytes.length; i++)
      bytes[i] = (format === 'NV12' ? (i - u.offset) % 2 === 1 : i >= v.offset)
        ? between(150, 170)
        : between(100, 120)
    const planes = [{ offset: start, stride }, u, ...(format === 'NV12' ? [] : [v])]
    const colour = { matrix, fullRange }
    return { format, width: WIDTH, height: HEIGHT, bytes, planes, colour }
  }

  test.each([
    ['I420', 'bt709', false],
    ['I420', 'smpte170m', true],
    ['NV12', 'smpte170m', false],
    ['NV12', 'bt709', true],
  ] as const)('is the mean light of its samples: %s, %s, full range %s', (format, matrix, full) => {
    const frame = planarFrame(format, matrix, full)
    const { codes } = frameCodes(frame)
    const light = (x: number, y: number): Triple => {
      const at = 3 * (y * WIDTH + x)
      return [decodeTransfer(codes[at]!), decodeTransfer(codes[at + 1]!), 0]
    }
    // Cells of 2, 4 and 8 pixels: one sample, or the corner and the middle each way.
    for (const [side, apart] of [
      [2, 0],
      [4, 2],
      [8, 4],
    ] as const) {
      const cells = new LiveCells(WIDTH / side)
      cells.add(frame)
      expect([cells.side, cells.columns, cells.rows]).toEqual([side, WIDTH / side, HEIGHT / side])
      for (const [column, row] of [
        [0, 0],
        [3, 1],
        [WIDTH / side - 1, HEIGHT / side - 1],
      ] as const) {
        const samples = [0, apart].flatMap((dy) =>
          [0, apart].map((dx) => light(column * side + dx, row * side + dy)),
        )
        const mean = [0, 1].map((c) => samples.reduce((sum, s) => sum + s[c]! / 4, 0))
        const [red, green] = linearP3FromSrgb([mean[0]!, mean[1]!, 0])
        const at = row * cells.columns + column
        // The table of light has 4096 steps.
        expect(cells.red[at]! / red).toBeCloseTo(1, 2)
        if (cells.state[at] === LIVE_READ)
          expect(cells.lnRatio[at]!).toBeCloseTo(Math.log(green / red), 2)
      }
      expect(cells.state[(cells.rows >> 1) * cells.columns + (cells.columns >> 1)]).toBe(LIVE_READ)
    }
  })

  test('is clipped where red of one of its samples comes to the top code', () => {
    const state = (luma: number, [dx, dy]: readonly [number, number] = [0, 0]) => {
      const frame = planarFrame('I420', 'smpte170m', true)
      const [y, u, v] = frame.planes
      frame.bytes.fill(90, y!.offset, u!.offset)
      for (let row = dy; row < HEIGHT; row += 8)
        for (let column = dx; column < WIDTH; column += 8)
          frame.bytes[y!.offset + row * y!.stride + column] = luma
      frame.bytes.fill(128, u!.offset, v!.offset)
      frame.bytes.fill(228, v!.offset)
      const cells = new LiveCells(WIDTH / 8)
      cells.add(frame)
      return cells.state[5 * cells.columns + 7]
    }
    // R = Y + 1.402 Cr: 254.2 and 255.2.
    expect(state(114)).toBe(LIVE_READ)
    for (const sample of [
      [0, 0],
      [4, 0],
      [0, 4],
      [4, 4],
    ] as const)
      expect(state(115, sample)).toBe(LIVE_CLIPPED)
  })

  test('cannot be had without chroma', () => {
    const { planes, ...frame } = planarFrame('I420', 'bt709', false)
    expect(() => cellsOf({ ...frame, planes: planes.slice(0, 1) })).toThrow('chroma planes')
  })
})

describe('a cell of a frame in pixels', () => {
  test('is the mean light of four, in either order of colours', () => {
    const four = (x: number, y: number): Codes =>
      [
        [200, 40],
        [180, 50],
        [160, 30],
        [220, 60],
      ][2 * (y % 2) + (x % 2)] as unknown as Codes
    const frame = rgbFrame(four)
    const swapped = frame.bytes.slice()
    for (let i = 0; i < swapped.length; i += 4)
      [swapped[i], swapped[i + 2]] = [swapped[i + 2]!, swapped[i]!]
    const all = [0, 1].flatMap((y) => [0, 1].map((x) => p3(four(x, y))))
    const [red, green] = [0, 1].map((c) => all.reduce((sum, light) => sum + light[c]! / 4, 0))
    for (const one of [frame, { ...frame, format: 'BGRA', bytes: swapped } as const]) {
      const cells = cellsOf(one)
      expect(cells.red[MIDDLE]! / red!).toBeCloseTo(1, 3)
      expect(cells.lnRatio[MIDDLE]!).toBeCloseTo(Math.log(green! / red!), 3)
    }
  })

  test('is clipped where one of the four is at the top', () => {
    const state = (code: number, one: number) =>
      cellsOf(rgbFrame((x, y) => (2 * (y % 2) + (x % 2) === one ? [code, 40] : GLOW))).state[MIDDLE]
    for (const one of [0, 1, 2, 3]) {
      expect(state(254, one)).toBe(LIVE_READ)
      expect(state(255, one)).toBe(LIVE_CLIPPED)
    }
  })
})

describe('what glows in a live picture', () => {
  const stateOf = (codes: Codes, beside: Codes = codes) =>
    cellsOf(rgbFrame((x) => (x < 90 ? codes : beside))).state[MIDDLE]

  test('has red of 0.004 at least', () => {
    expect([15, 16].map((red) => p3([red, 0])[0])).toEqual([
      expect.closeTo(0.0039, 4),
      expect.closeTo(0.0043, 4),
    ])
    expect(stateOf([15, 0])).toBe(LIVE_DARK)
    expect(stateOf([16, 0])).toBe(LIVE_READ)
  })

  test('has a twentieth of the brightest red at least', () => {
    const bright: Codes = [200, 0]
    const share = (red: number) => p3([red, 0])[0] / p3(bright)[0]
    expect([share(46), share(49)]).toEqual([expect.closeTo(0.047, 3), expect.closeTo(0.053, 3)])
    expect(stateOf([46, 0], bright)).toBe(LIVE_DARK)
    expect(stateOf([49, 0], bright)).not.toBe(LIVE_DARK)
  })

  test('has green of 0.55 of its red at most: 2900 K', () => {
    const tinted = (share: number): Codes => {
      // G/R in linear P3, solved for the share of green in sRGB by the matrix of red and green alone.
      const [[rr, gr], [rg, gg]] = [linearP3FromSrgb([1, 0, 0]), linearP3FromSrgb([0, 1, 0])]
      const green = (share * rr - gr) / (gg - share * rg)
      return [188, Math.round(255 * encodeTransfer(green * decodeTransfer(188 / 255)))]
    }
    expect(stateOf(tinted(0.53))).toBe(LIVE_READ)
    expect(stateOf(tinted(0.57))).toBe(LIVE_DARK)
  })

  test('is read where the nearest dark cell is further than the margin, in any direction', () => {
    const draw = uniform(9)
    const [columns, rows] = [WIDTH / 2, HEIGHT / 2]
    const dark = Array.from(
      { length: 14 },
      () => [Math.floor(columns * draw()), Math.floor(rows * draw())] as const,
    )
    const cells = cellsOf(
      rgbFrame((x, y) => (dark.some(([u, v]) => u === x >> 1 && v === y >> 1) ? [0, 0] : GLOW)),
    )
    const margin = Math.ceil(cells.marginPixels / cells.side)
    const expected = Array.from({ length: columns * rows }, (_, at) => {
      const [column, row] = [at % columns, Math.floor(at / columns)]
      const away = dark.map(([u, v]) => Math.max(Math.abs(u - column), Math.abs(v - row)))
      const steps = Math.min(...away)
      return steps === 0 ? LIVE_DARK : steps <= margin ? LIVE_EDGE : LIVE_READ
    })
    expect([...cells.state]).toEqual(expected)
    expect([...cells.lnRatio].map(Number.isNaN)).toEqual(expected.map((at) => at !== LIVE_READ))
  })
})

describe('the margin along outlines', () => {
  const barOf = (sd: number) =>
    rgbFrame((x) => {
      const inside = normalCdf((x - 40) / sd)
      return [Math.round(255 * encodeTransfer(0.5 * inside)), 0]
    })

  test('is 8 pixels where no outline tells the blur', () => {
    expect(cellsOf(rgbFrame(() => GLOW)).marginPixels).toBe(8)
  })

  test('reaches from a twentieth of the light to 0.8 % short of all of it, and 3 pixels on', () => {
    const frame = barOf(3)
    const { marginPixels } = cellsOf(frame)
    const sds = (marginPixels - 3) / liveBlur(frame)
    // From a twentieth outwards of the half level: 1.645 standard deviations.
    expect(1 - normalCdf(sds - 1.645)).toBeCloseTo(0.0082, 3)
  })

  test('is 40 pixels at most', () => {
    const wide = rgbFrame((x) => [
      Math.round(255 * encodeTransfer(0.5 * normalCdf((x - 60) / 12))),
      0,
    ])
    expect((2.4 + 1.64) * liveBlur(wide) + 3).toBeGreaterThan(40)
    expect(cellsOf(wide).marginPixels).toBe(40)
  })

  test('follows the picture every fifteenth frame, by two fifths of what it lacks', () => {
    const [soft, sharp] = [barOf(4), barOf(1.5)]
    const [from, to] = [cellsOf(soft).marginPixels, cellsOf(sharp).marginPixels]
    const cells = cellsOf(soft)
    for (let k = 1; k < 15; k++) cells.add(sharp)
    expect(cells.marginPixels).toBe(from)
    cells.add(sharp)
    expect(cells.marginPixels).toBeCloseTo(from + 0.4 * (to - from), 6)
  })
})

describe('the mean over frames', () => {
  const [dim, bright] = [rgbFrame(() => [150, 30]), rgbFrame(() => GLOW)]

  test('moves by 0.22 of what a new frame differs by, so that eight make most of it', () => {
    const [a, b] = [p3([150, 30])[0], p3(GLOW)[0]]
    const red = cellsOf(dim, bright).red[MIDDLE]!
    expect((red - a) / (b - a)).toBeCloseTo(0.22, 2)
    const eight = cellsOf(dim, ...new Array<FramePixels>(8).fill(bright)).red[MIDDLE]!
    expect((eight - a) / (b - a)).toBeGreaterThan(0.85)
  })

  test('begins anew when it is told to, and with a picture of another size', () => {
    const cells = cellsOf(dim)
    cells.clear()
    cells.add(bright)
    expect(cells.red[MIDDLE]).toBeCloseTo(p3(GLOW)[0], 3)
    expect(cells.lnNoise).toBeNaN()
    cells.add(rgbFrame(() => [150, 30], [WIDTH, HEIGHT - 20]))
    expect(cells.rows).toBe((HEIGHT - 20) / 2)
    expect(cells.red[MIDDLE]).toBeCloseTo(p3([150, 30])[0], 3)
    expect(cells.red).toHaveLength((WIDTH / 2) * cells.rows)
  })

  test('has a noise from the second frame on, none where nothing changes', () => {
    expect(cellsOf(dim).lnNoise).toBeNaN()
    expect(cellsOf(dim, dim).lnNoise).toBeCloseTo(0, 6)
    expect(
      cellsOf(
        rgbFrame(() => [0, 0]),
        rgbFrame(() => [0, 0]),
      ).lnNoise,
    ).toBeNaN()
  })
})
