import { expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import type { FramePixels } from '../../../src/light/live/frame-codes.ts'
import {
  LIVE_CLIPPED,
  LIVE_DARK,
  LIVE_EDGE,
  LIVE_READ,
  LiveCells,
} from '../../../src/light/live/live-cells.ts'
import { lnRatioOf } from '../../../src/sources/live/frame-ratio.ts'
import { normal } from '../pictures.ts'

const [WIDTH, HEIGHT] = [320, 180]
const GLOW = [0.5, 0.03, 0.002] as const
const CARD = [0.2, 0.2, 0.2] as const
const noise = normal(4)

/** A bar of {@link GLOW} and a grey card, with half a code of noise. */
const colourAt = (x: number, y: number): readonly number[] => {
  if (x >= 60 && x < 260 && y >= 60 && y < 120) return GLOW
  return x >= 280 && y >= 140 ? CARD : [0, 0, 0]
}
function rgbFrame(top = 1): FramePixels {
  const bytes = new Uint8Array(4 * WIDTH * HEIGHT)
  for (let y = 0, i = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++, i += 4)
      for (const [c, linear] of colourAt(x, y).entries())
        bytes[i + c] = Math.min(
          255,
          Math.max(0, Math.round(255 * encodeTransfer(linear * top) + 0.5 * noise())),
        )
  const planes = [{ offset: 0, stride: 4 * WIDTH }]
  return { format: 'RGBA', width: WIDTH, height: HEIGHT, bytes, planes, colour: FULL }
}
const FULL = { matrix: 'rgb', fullRange: true }

/** The same by BT.601 in full range, colour at half resolution. */
function yuvFrame(format: 'I420' | 'NV12'): FramePixels {
  const luma = WIDTH * HEIGHT
  const bytes = new Uint8Array(1.5 * luma)
  const between = format === 'NV12' ? 2 : 1
  const u = { offset: luma, stride: (WIDTH / 2) * between }
  const v = { offset: format === 'NV12' ? luma + 1 : 1.25 * luma, stride: u.stride }
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const [r, g, b] = colourAt(x, y).map((linear) => 255 * encodeTransfer(linear)) as [
        number,
        number,
        number,
      ]
      const l = 0.299 * r + 0.587 * g + 0.114 * b
      bytes[y * WIDTH + x] = Math.round(l)
      const at = (y >> 1) * u.stride + (x >> 1) * between
      bytes[u.offset + at] = Math.round(128 + (b - l) / 1.772)
      bytes[v.offset + at] = Math.round(128 + (r - l) / 1.402)
    }
  const planes = [{ offset: 0, stride: WIDTH }, u, ...(format === 'NV12' ? [] : [v])]
  const colour = { matrix: 'smpte170m', fullRange: true }
  return { format, width: WIDTH, height: HEIGHT, bytes, planes, colour }
}

const cellAt = ({ columns, side }: LiveCells, x: number, y: number) =>
  Math.floor(y / side) * columns + Math.floor(x / side)

test('the middle of a bar is read, its edge is not, and a card is no glow', () => {
  const cells = new LiveCells(160)
  for (let i = 0; i < 10; i++) cells.add(rgbFrame())
  expect([cells.columns, cells.rows, cells.side]).toEqual([160, 90, 2])
  const middle = cellAt(cells, 160, 90)
  expect(cells.state[middle]).toBe(LIVE_READ)
  expect(Math.abs(cells.lnRatio[middle]! - lnRatioOf(GLOW))).toBeLessThan(0.02)
  expect(cells.state[cellAt(cells, 63, 90)]).toBe(LIVE_EDGE)
  expect(cells.state[cellAt(cells, 300, 160)]).toBe(LIVE_DARK)
  expect(cells.state[cellAt(cells, 20, 20)]).toBe(LIVE_DARK)
})

test.each(['I420', 'NV12'] as const)('%s frames give the ratio of their light', (format) => {
  const cells = new LiveCells(160)
  cells.add(yuvFrame(format))
  // Whole codes of chroma: half a code of green at code 50 is 2 %.
  expect(Math.abs(cells.lnRatio[cellAt(cells, 160, 90)]! - lnRatioOf(GLOW))).toBeLessThan(0.03)
})

test('an overexposed bar is marked', () => {
  const cells = new LiveCells(160)
  cells.add(rgbFrame(3))
  expect(cells.state[cellAt(cells, 160, 90)]).toBe(LIVE_CLIPPED)
})

test('the noise of the means is stated as large as it is', () => {
  const cells = new LiveCells(160)
  for (let i = 0; i < 30; i++) cells.add(rgbFrame())
  const read = cells.lnRatio.filter(Number.isFinite)
  const mean = read.reduce((sum, v) => sum + v, 0) / read.length
  const sd = Math.sqrt(read.reduce((sum, v) => sum + (v - mean) ** 2, 0) / read.length)
  expect(cells.lnNoise / sd).toBeGreaterThan(0.8)
  expect(cells.lnNoise / sd).toBeLessThan(1.25)
})
