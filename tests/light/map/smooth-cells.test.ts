import { describe, expect, test } from 'vitest'
import { smoothCells } from '../../../src/light/map/smooth-cells.ts'
import { normal } from '../pictures.ts'

const [COLUMNS, ROWS] = [120, 80]

interface Noise {
  readonly sd: number
  readonly reach?: number
  readonly growth?: number
}
const smoothed = (
  lnRatio: Float32Array,
  { sd, reach = 1, growth = 1 }: Noise,
  columns: number = COLUMNS,
) =>
  smoothCells({
    columns,
    rows: lnRatio.length / columns,
    lnRatio,
    lnNoise: new Float32Array(lnRatio.length).fill(sd),
    noiseReach: reach,
    noiseGrowth: growth,
  })
const rms = (of: Float32Array) => Math.sqrt(of.reduce((sum, v) => sum + v * v, 0) / of.length)

test('the noise that smoothing leaves is as large as it is stated', () => {
  const sd = 0.05
  const noise = normal(11)
  const smooth = smoothed(
    Float32Array.from({ length: COLUMNS * ROWS }, () => sd * noise()),
    { sd },
  )
  expect(rms(smooth.lnRatio)).toBeLessThan(0.2 * sd)
  // Some 160 independent patches of the largest neighbourhood: 5 % of scatter.
  expect(rms(smooth.lnNoise) / rms(smooth.lnRatio)).toBeGreaterThan(0.85)
  expect(rms(smooth.lnNoise) / rms(smooth.lnRatio)).toBeLessThan(1.2)
})

test('what is as good as 1 K (0.003) already is left as it is', () => {
  const noise = normal(12)
  const values = Float32Array.from({ length: 400 }, () => 0.003 * noise())
  expect(smoothed(values, { sd: 0.0029 }, 20).lnRatio).toEqual(values)
  expect(smoothed(values, { sd: 0.0031 }, 20).lnRatio).not.toEqual(values)
})

test('smoothing ends where 1 K is reached: a little noise is taken off by the nearest cells alone', () => {
  const noise = normal(13)
  const far = 4
  const values = Float32Array.from({ length: 400 }, () => 0.006 * noise())
  const moved = values.map((v, at) => (at === 210 + far ? v + 0.01 : v))
  const [a, b] = [values, moved].map((of) => smoothed(of, { sd: 0.006 }, 20).lnRatio)
  expect(b![210 + far]).not.toBe(a![210 + far])
  expect(b![210]).toBe(a![210])
})

describe('of even cells', () => {
  const flat = (columns: number, rows: number) => new Float32Array(columns * rows).fill(-1)
  /** Weights 1 - (d / (r + 1/2)) squared over the cells of a disc, as independent values. */
  const left = (radius: number) => {
    let [sum, squares] = [0, 0]
    for (let v = -9; v <= 9; v++)
      for (let u = -9; u <= 9; u++) {
        const weight = Math.max(1 - (u * u + v * v) / (radius + 0.5) ** 2, 0)
        if (Math.max(Math.abs(u), Math.abs(v)) > Math.floor(radius)) continue
        sum += weight
        squares += weight * weight
      }
    return squares / sum ** 2
  }

  test('the widest mean leaves what its weights say, and a quarter more for its preference', () => {
    const { lnRatio, lnNoise } = smoothed(flat(41, 41), { sd: 0.1 }, 41)
    expect(rms(lnRatio.map((v) => v + 1))).toBeLessThan(1e-6)
    // Radius 6.6 cells.
    expect(lnNoise[20 * 41 + 20]! / (0.1 * Math.sqrt(left(6.6)))).toBeCloseTo(1.24, 2)
    // In a corner the same kernel has a quarter of its cells, and a little more.
    expect(lnNoise[0]! / lnNoise[20 * 41 + 20]!).toBeGreaterThan(1.6)
    expect(lnNoise[0]! / lnNoise[20 * 41 + 20]!).toBeLessThan(2)
    expect(lnNoise[0]).toBeCloseTo(lnNoise.at(-1)!, 9)
    expect(lnNoise[0]).toBeCloseTo(lnNoise[40]!, 9)
  })

  test('common noise leaves more: a mean over its reach is as much worse as was measured', () => {
    const at = 20 * 41 + 20
    const alone = smoothed(flat(41, 41), { sd: 0.1 }, 41).lnNoise[at]!
    const common = smoothed(flat(41, 41), { sd: 0.1, reach: 4, growth: 9 }, 41).lnNoise[at]!
    // Variances: 9 times, with the preference's 0.54 besides, over 1.54 times.
    expect((common / alone) ** 2).toBeCloseTo((9 + 0.54) / 1.54, 1)
    // Far below the reach only part of it counts: all from a quarter of its cells on.
    const wide = smoothed(flat(41, 41), { sd: 0.1, reach: 40, growth: 9 }, 41).lnNoise[at]!
    const cells = 1 / left(6.6)
    const part = 1 + (8 * 4 * (cells - 1)) / (40 ** 2 - 1)
    expect((wide / alone) ** 2).toBeCloseTo((part + 0.54) / 1.54, 1)
  })
})

describe('cells that were not read', () => {
  test('stay so, and take no part in the others', () => {
    const values = new Float32Array(441).fill(-1)
    values[220] = Number.NaN
    const { lnRatio } = smoothed(values, { sd: 0.05 }, 21)
    expect(lnRatio[220]).toBeNaN()
    expect(lnRatio.filter(Number.isNaN)).toHaveLength(1)
    expect(lnRatio[221]).toBeCloseTo(-1, 6)
  })
})

test('of cells with different noise the surer ones count more', () => {
  const values = new Float32Array(9).map((_, at) => (at === 4 ? 0.02 : 0))
  const of = (sd: number) => {
    const lnNoise = new Float32Array(9).fill(0.05)
    lnNoise[4] = sd
    return smoothCells({
      columns: 3,
      rows: 3,
      lnRatio: values,
      lnNoise,
      noiseReach: 1,
      noiseGrowth: 1,
    }).lnRatio[4]!
  }
  expect(of(0.02)).toBeGreaterThan(of(0.05))
  expect(of(0.05)).toBeGreaterThan(of(0.1))
})

test('a mean does not reach over an edge, nor over the end of a row', () => {
  const [columns, rows] = [30, 20]
  const values = Float32Array.from({ length: columns * rows }, (_, at) =>
    at % columns < 3 ? -1 : at % columns >= 27 ? -2 : -1.5,
  )
  const { lnRatio } = smoothed(values, { sd: 0.05 }, columns)
  // 0.5 is ten standard deviations: more than 22 variances.
  expect(Math.max(...lnRatio.map((v, at) => Math.abs(v - values[at]!)))).toBeLessThan(1e-5)
})
