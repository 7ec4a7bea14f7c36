import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { monotoneCubic } from '../../src/numerics/monotone-cubic.ts'
import { expectClose } from '../close-to.ts'

const risingTable = fc
  .array(
    fc.tuple(
      fc.double({ min: 0.1, max: 5, noNaN: true }),
      fc.double({ min: 0.1, max: 5, noNaN: true }),
    ),
    {
      minLength: 3,
      maxLength: 12,
    },
  )
  .map((steps) => {
    let x = 0
    let y = 0
    return steps.map(([dx, dy]): [number, number] => {
      x += dx
      y += dy
      return [x, y]
    })
  })

describe('monotone cubic interpolation', () => {
  it('passes through its rows, rises where they rise, and inverts', () => {
    fc.assert(
      fc.property(risingTable, fc.double({ min: 0, max: 0.99, noNaN: true }), (rows, share) => {
        const curve = monotoneCubic(rows)
        for (const [x, y] of rows) expectClose(curve.value(x), y, 1e-12)
        const [low, high] = curve.range
        const at = low + share * (high - low)
        const step = (high - low) * 1e-3
        expect(curve.value(at + step)).toBeGreaterThan(curve.value(at))
        expectClose(curve.value(curve.inverse(curve.value(at))), curve.value(at), 1e-11)
      }),
    )
  })

  it('keeps a parabola it is given within its third-order error', () => {
    // Steffen 1990: third order where the data is smooth; at h = 0.1 the parabola is exact inside.
    const curve = monotoneCubic(
      Array.from({ length: 21 }, (_, i) => [i / 10 + 1, (i / 10 + 1) ** 2]),
    )
    for (let x = 1.1; x < 2.9; x += 0.037) expectClose(curve.value(x), x * x, 1e-12)
  })

  it('has the slope of its own value', () => {
    const curve = monotoneCubic([
      [0, 0],
      [1, 1],
      [3, 2],
      [4, 7],
    ])
    for (const x of [0.3, 1.7, 3.2]) {
      const numeric = (curve.value(x + 1e-6) - curve.value(x - 1e-6)) / 2e-6
      expectClose(curve.slope(x), numeric, 1e-7)
    }
  })

  it('refuses a table that turns back in x, and the inverse of one that falls', () => {
    expect(() =>
      monotoneCubic([
        [0, 0],
        [1, 1],
        [1, 2],
      ]),
    ).toThrow(RangeError)
    expect(() =>
      monotoneCubic([
        [0, 0],
        [1, 1],
      ]),
    ).toThrow(RangeError)
    expect(() =>
      monotoneCubic([
        [0, 2],
        [1, 1],
        [2, 0],
      ]).inverse(1),
    ).toThrow(RangeError)
  })
})
