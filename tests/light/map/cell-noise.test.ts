import { describe, expect, test } from 'vitest'
import { cellNoise } from '../../../src/light/map/cell-noise.ts'
import { normal } from '../pictures.ts'

const [COLUMNS, ROWS] = [96, 72]

/** Values of cells by column and row. */
const cellsOf = (
  value: (x: number, y: number) => number,
  columns: number = COLUMNS,
  rows: number = ROWS,
) =>
  Float32Array.from({ length: columns * rows }, (_, at) =>
    value(at % columns, Math.floor(at / columns)),
  )
/** The same noise for every cell of a square of so many by so many. */
function blocks(size: number, sd: number, seed: number) {
  const draw = normal(seed)
  const drawn = new Map<number, number>()
  return (x: number, y: number) => {
    const at = Math.floor(y / size) * 1000 + Math.floor(x / size)
    const value = drawn.get(at) ?? sd * draw()
    drawn.set(at, value)
    return value
  }
}
/** As of cells of 16 pixels, JPEG's largest block: the noise of each is its own. */
const LARGE = 16
/** Brighter to the right: cells of one level come from everywhere along a column. */
const even = cellsOf((x) => -1 + x / COLUMNS)
const usual = (noise: Float32Array) => noise.reduce((sum, v) => sum + v, 0) / noise.length

describe('the noise of cells', () => {
  test('is that of their values, a slope in any direction taken off', () => {
    const draw = normal(1)
    const noise = cellsOf(() => 0.02 * draw())
    const sloping = noise.map(
      (v, at) => v + 0.03 * (at % COLUMNS) - 0.05 * Math.floor(at / COLUMNS),
    )
    for (const values of [noise, sloping]) {
      const { lnNoise, reach, growth } = cellNoise(values, even, COLUMNS, ROWS, LARGE)
      expect([reach, growth]).toEqual([1, 1])
      // Of some 14,000 differences.
      expect(Math.abs(usual(lnNoise) / 0.02 - 1)).toBeLessThan(0.03)
    }
  })

  test('is seen across and along alone where cells lie in one row or one column', () => {
    const draw = normal(2)
    const line = Float32Array.from({ length: 3000 }, () => 0.02 * draw())
    for (const [columns, rows] of [
      [3000, 1],
      [1, 3000],
    ] as const) {
      const { lnNoise } = cellNoise(
        line,
        line.map(() => -1),
        columns,
        rows,
        LARGE,
      )
      expect(Math.abs(usual(lnNoise) / 0.02 - 1)).toBeLessThan(0.05)
    }
  })

  test('does not count an edge of the glow, which is one difference of many', () => {
    const draw = normal(3)
    const stepped = cellsOf((x) => (x < COLUMNS / 2 ? -1 : -2) + 0.02 * draw())
    const { lnNoise } = cellNoise(stepped, even, COLUMNS, ROWS, LARGE)
    expect(Math.abs(usual(lnNoise) / 0.02 - 1)).toBeLessThan(0.08)
  })

  test('goes with the level: dark cells are noisier', () => {
    const draw = normal(4)
    const level = cellsOf((x) => -4 + (4 * x) / COLUMNS)
    const sdAt = (ln: number) => 0.01 * Math.exp(-ln / 2)
    const values = level.map((ln) => sdAt(ln) * draw())
    const { lnNoise } = cellNoise(values, level, COLUMNS, ROWS, LARGE)
    for (const column of [0, 16, 32, 48, 64, 80, 95]) {
      const at = 10 * COLUMNS + column
      // Straight between six bins; flat beyond the middles of the first and the last.
      const least = -4 + 4 / 12
      const ln = Math.min(Math.max(level[at]!, least), -4 / 12)
      expect(Math.abs(lnNoise[at]! / sdAt(ln) - 1), `column ${column}`).toBeLessThan(0.12)
    }
    // Alike down a column, and falling with the level.
    expect(lnNoise[60 * COLUMNS + 30]).toBe(lnNoise[5 * COLUMNS + 30])
    const rising = Array.from({ length: 60 }, (_, k) => lnNoise[20 + k]! - lnNoise[19 + k]!)
    expect(Math.max(...rising)).toBeLessThan(0)
  })

  test('is stated where a cell was read, and nowhere else', () => {
    const draw = normal(5)
    const values = cellsOf((x, y) => ((x + y) % 5 === 0 ? Number.NaN : 0.02 * draw()))
    const { lnNoise } = cellNoise(values, even, COLUMNS, ROWS, LARGE)
    expect(lnNoise.every((v, at) => Number.isNaN(v) === Number.isNaN(values[at]))).toBe(true)
  })

  test('is never less than a twentieth of a per cent, and open where no cell has neighbours', () => {
    const flat = even.map(() => -1)
    const { lnNoise } = cellNoise(flat, even, COLUMNS, ROWS, LARGE)
    expect(lnNoise.every((v) => Math.abs(v - 0.0005) < 1e-8)).toBe(true)
    const alone = cellsOf((x, y) => (x % 2 === 0 && y % 2 === 0 ? -1 : Number.NaN))
    expect(cellNoise(alone, even, COLUMNS, ROWS, LARGE).lnNoise[0]).toBe(Number.POSITIVE_INFINITY)
  })
})

describe('noise that neighbouring cells have in common', () => {
  test('reaches over 16 pixels: one cell or several', () => {
    const reachOf = (side: number) => cellNoise(even, even, COLUMNS, ROWS, side).reach
    expect([2, 4, 5, 8, 11, 16, 40].map(reachOf)).toEqual([8, 4, 3, 2, 1, 1, 1])
  })

  test('is found where neighbours err as one: a mean over them is no better than each', () => {
    const values = cellsOf(blocks(4, 0.02, 6))
    const { lnNoise, growth } = cellNoise(values, even, COLUMNS, ROWS, 4)
    expect(Math.abs(usual(lnNoise) / 0.02 - 1)).toBeLessThan(0.05)
    // All of 4 x 4.
    expect(growth).toBeGreaterThan(13)
    expect(growth).toBeLessThanOrEqual(16)
  })

  test('is found in part where each cell has noise of its own besides', () => {
    const [common, own] = [blocks(4, 0.01, 29), normal(157)]
    const values = cellsOf((x, y) => common(x, y) + 0.02 * own())
    const { lnNoise, growth } = cellNoise(values, even, COLUMNS, ROWS, 4)
    expect(Math.abs(usual(lnNoise) / Math.hypot(0.01, 0.02) - 1)).toBeLessThan(0.05)
    // 16 (0.01 squared + 0.02 squared / 16) over the sum of the squares.
    expect(Math.abs(growth / 4 - 1)).toBeLessThan(0.1)
  })

  test('is none where chance alone would show so much', () => {
    const draw = normal(9)
    const values = cellsOf(() => 0.02 * draw())
    expect(cellNoise(values, even, COLUMNS, ROWS, 4).growth).toBe(1)
  })

  test('is taken as two fifths of its reach where the glow is too small to see it', () => {
    const small = (columns: number, rows: number) => {
      const draw = normal(10)
      const values = cellsOf(() => 0.02 * draw(), columns, rows)
      return cellNoise(
        values,
        values.map(() => -1),
        columns,
        rows,
        4,
      )
    }
    // 3 x 4 squares have 4 second differences across and 6 along: 10; 4 x 4 have 16.
    expect(small(12, 16).growth).toBeCloseTo(0.4 * 16, 9)
    expect(small(16, 16).growth).not.toBeCloseTo(0.4 * 16, 3)
    // The noise itself is seen between nearer cells there.
    expect(Math.abs(usual(small(6, 6).lnNoise) / 0.02 - 1)).toBeLessThan(0.3)
  })
})
