import { describe, expect, test } from 'vitest'
import { significance } from '../../../src/estimate/map/significance.ts'
import { trend } from '../../../src/estimate/map/trend.ts'
import { normal } from '../../light/pictures.ts'

const COLUMNS = 24
const ROWS = 16
const grid = (value: (x: number, y: number) => number) =>
  Float32Array.from({ length: COLUMNS * ROWS }, (_, i) =>
    value(i % COLUMNS, Math.floor(i / COLUMNS)),
  )

describe('the slow course of a map', () => {
  const bowl = (x: number, y: number) =>
    1100 + 4 * x - 3 * y + 0.3 * x * x - 0.2 * x * y + 0.1 * y * y

  test('of a quadratic surface is that surface', () => {
    const found = trend(grid(bowl), COLUMNS)
    grid(bowl).forEach((value, i) => {
      expect(Math.abs(found[i]! - value)).toBeLessThan(0.05)
    })
  })

  test('is not bent by a spot, and not told where nothing was read', () => {
    const spot = (x: number, y: number) => (Math.hypot(x - 6, y - 5) < 2.5 ? 80 : 0)
    const values = grid((x, y) => (x === 20 && y > 9 ? Number.NaN : bowl(x, y) + spot(x, y)))
    const found = trend(values, COLUMNS)
    values.forEach((value, i) => {
      if (Number.isNaN(value)) expect(found[i]).toBeNaN()
      else expect(Math.abs(found[i]! - grid(bowl)[i]!)).toBeLessThan(0.5)
    })
  })

  test('goes through a map of one row', () => {
    const row = Float32Array.from({ length: 30 }, (_, x) => 1000 + 5 * x)
    trend(row, 30).forEach((value, i) => {
      expect(Math.abs(value - row[i]!)).toBeLessThan(0.5)
    })
  })
})

describe('how far places stand out of the noise of their map', () => {
  const draw = normal(8)
  const noise = grid(() => draw())
  const even = grid(() => 1)
  const at = (x: number, y: number) => y * COLUMNS + x

  test('noise alone seldom reaches five standard deviations', () => {
    const found = significance(noise, even, COLUMNS, false)
    expect(found.filter((value) => Math.abs(value) > 5)).toHaveLength(0)
  })

  test('a hot and a cold spot stand out with their signs', () => {
    const spots = noise.map((value, i) => {
      const [x, y] = [i % COLUMNS, Math.floor(i / COLUMNS)]
      if (Math.hypot(x - 6, y - 8) < 1.8) return value + 6
      return Math.hypot(x - 17, y - 8) < 1.8 ? value - 6 : value
    })
    const found = significance(spots, even, COLUMNS, false)
    expect(found[at(6, 8)]).toBeGreaterThan(6)
    expect(found[at(17, 8)]).toBeLessThan(-6)
    expect(Math.abs(found[at(12, 1)]!)).toBeLessThan(4)
  })

  test('do not depend on the unit: ten times the noise and the residual give the same', () => {
    const one = significance(noise, even, COLUMNS, false)
    const ten = significance(
      noise.map((value) => 10 * value),
      even.map(() => 10),
      COLUMNS,
      false,
    )
    one.forEach((value, i) => {
      expect(ten[i]).toBeCloseTo(value, 3)
    })
  })

  test('a noisier cell counts for less in its window', () => {
    const spike = grid((x, y) => (x === 10 && y === 8 ? 12 : noise[at(x, y)]!))
    const doubtful = grid((x, y) => (x === 10 && y === 8 ? 12 : 1))
    const plain = significance(spike, even, COLUMNS, false)[at(10, 8)]!
    expect(significance(spike, doubtful, COLUMNS, false)[at(10, 8)]).toBeLessThan(plain / 2)
  })

  test('places that fill a third of the map stand out of its calmer half', () => {
    const step = grid((x, y) => noise[at(x, y)]! + (x < 8 ? 4 : 0))
    const crowded = significance(step, even, COLUMNS, true)[at(4, 8)]!
    expect(crowded).toBeGreaterThan(significance(step, even, COLUMNS, false)[at(4, 8)]!)
  })

  test('is nothing where too little was read', () => {
    const few = grid((x, y) => (x < 4 && y < 4 ? 5 * noise[at(x, y)]! : Number.NaN))
    expect([...significance(few, even, COLUMNS, false)].every((value) => value === 0)).toBe(true)
  })
})
