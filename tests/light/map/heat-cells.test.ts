import { expect, test } from 'vitest'
import {
  CELL_STATES,
  type CellState,
  type HeatCells,
  heatCells,
} from '../../../src/light/map/heat-cells.ts'
import { smoothCells } from '../../../src/light/map/smooth-cells.ts'
import { toLinearLight } from '../../../src/light/tone-response.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { normal, picture, type Scene } from '../pictures.ts'

const WIDTH = 200
const HEIGHT = 96
const MIDDLE = { shape: 'rectangle', x: 80, y: 40, width: 30, height: 16 } as const
const GLOW: Triple = [0.6, 0.08, 0.01]
const OPTIONS = { chromaSubsampled: false, codingSteps: null, background: null }

/** Share of an upright edge that a normal blur leaves at a distance inside of it. */
const inside = (distance: number, blur: number) => {
  // Logistic curve, within 0.01 of the normal one (Johnson & Kotz 1970, from memory).
  return 1 / (1 + Math.exp((-1.702 * distance) / blur))
}
const bar =
  (blur: number, colour: (x: number, y: number) => Triple = () => GLOW): Scene =>
  (x, y) => {
    const share =
      inside(x - 20, blur) * inside(180 - x, blur) * inside(y - 16, blur) * inside(80 - y, blur)
    const [r, g, b] = colour(x, y)
    return [r * share, g * share, b * share]
  }
const cellsOf = (scene: Scene, rendering = {}): HeatCells =>
  heatCells(toLinearLight(picture(WIDTH, HEIGHT, scene, rendering)), MIDDLE, OPTIONS)
const stateAt = ({ columns, side, state }: HeatCells, x: number, y: number): CellState =>
  CELL_STATES[state[Math.floor(y / side) * columns + Math.floor(x / side)]!]!
const readOf = ({ lnRatio }: Pick<HeatCells, 'lnRatio'>) => lnRatio.filter(Number.isFinite)
const sd = (values: Float32Array) => {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length)
}

test('the middle of a bar is read, its edges are left out, beside it nothing glows', () => {
  const cells = cellsOf(bar(1))
  expect(stateAt(cells, 100, 48)).toBe('read')
  expect(stateAt(cells, 100, 17)).toBe('edge')
  expect(stateAt(cells, 100, 4)).toBe('not glow')
  const ratios = readOf(cells)
  const mean = ratios.reduce((sum, v) => sum + v, 0) / ratios.length
  expect(Math.abs(mean - Math.log(GLOW[1] / GLOW[0]))).toBeLessThan(0.01)
})

test('a spot 150 K hotter leaves the metal beside it in the map', () => {
  // Wien at 634 nm, 1100 K beside 1250 K: exp(-22694 (1/1100 - 1/1250)) = 0.084.
  const spot = (x: number, y: number) => Math.hypot(x - 100, y - 48) < 10
  const cool = GLOW.map((light) => 0.084 * light) as unknown as Triple
  const cells = cellsOf(bar(1, (x, y) => (spot(x, y) ? GLOW : cool)))
  for (const x of [78, 122, 140]) expect(stateAt(cells, x, 48)).toBe('read')
  expect(stateAt(cells, 100, 48)).toBe('read')
})

test.each([1.5, 3])('a blur of %d pixels is measured, and the margin grows with it', (blur) => {
  const cells = cellsOf(bar(blur))
  // Differences over two pixels see no edge sharper than 0.8 pixels: both add in squares.
  expect(cells.blurPixels).toBeGreaterThan(0.9 * blur)
  expect(cells.blurPixels).toBeLessThan(1.15 * Math.hypot(blur, 0.8))
  expect(cells.marginPixels).toBeGreaterThan(2.2 * blur)
})

test('a clipped place, a dark place and a blue reflection are left out for their own reasons', () => {
  const cells = cellsOf(
    bar(1, (x, y) => {
      if (Math.hypot(x - 60, y - 48) < 8) return [1.3, 0.3, 0.1]
      if (Math.hypot(x - 140, y - 48) < 8) return [0.6, 0.09, 0.09]
      return GLOW
    }),
  )
  expect(stateAt(cells, 60, 48)).toBe('clipped')
  expect(stateAt(cells, 140, 48)).toBe('off locus')
  expect(stateAt(cells, 100, 48)).toBe('read')
})

test('a wire is too thin to be read, and it is said how much wider it must appear', () => {
  const wire: Scene = (x, y) => (Math.abs(y - 48) < 3 && x > 20 && x < 180 ? GLOW : [0, 0, 0])
  const cells = cellsOf(wire)
  expect(stateAt(cells, 100, 48)).toBe('thin')
  expect(readOf(cells).length).toBe(0)
  expect(cells.closer).toBeGreaterThan(1.3)
  expect(cells.closer).toBeLessThan(4)
})

test('other glows in the picture are not this one', () => {
  const scene: Scene = (x, y) =>
    y > 16 && y < 80 && ((x > 20 && x < 115) || (x > 130 && x < 190)) ? GLOW : [0, 0, 0]
  const cells = cellsOf(scene)
  expect(stateAt(cells, 60, 48)).toBe('read')
  expect(stateAt(cells, 160, 48)).toBe('not glow')
})

test('the noise is stated as large as it is, before and after smoothing', () => {
  const cells = cellsOf(bar(1), { shot: 0.03 })
  const stated = cells.lnNoise.filter(Number.isFinite)
  expect(sd(readOf(cells)) / stated[stated.length >> 1]!).toBeGreaterThan(0.85)
  expect(sd(readOf(cells)) / stated[stated.length >> 1]!).toBeLessThan(1.2)
  const smooth = smoothCells(cells)
  const left = smooth.lnNoise.filter(Number.isFinite).sort()
  expect(sd(readOf(smooth))).toBeLessThan(0.4 * sd(readOf(cells)))
  expect(sd(readOf(smooth)) / left[left.length >> 1]!).toBeLessThan(1.4)
})

test('smoothing keeps a step', () => {
  const columns = 40
  const noise = normal(5)
  const lnRatio = Float32Array.from(
    { length: 40 * 20 },
    (_, at) => (at % columns < 20 ? -2 : -1.8) + 0.02 * noise(),
  )
  const { lnRatio: smooth } = smoothCells({
    columns,
    rows: 20,
    lnRatio,
    lnNoise: lnRatio.map(() => 0.02),
    noiseReach: 1,
    noiseGrowth: 1,
  })
  // Right at the step, in the middle row.
  expect(Math.abs(smooth[10 * columns + 19]! + 2)).toBeLessThan(0.02)
  expect(Math.abs(smooth[10 * columns + 20]! + 1.8)).toBeLessThan(0.02)
})
