import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  cholesky,
  logDeterminant,
  solveCholesky,
  symmetricEigen,
} from '../../src/numerics/linear-algebra.ts'
import { expectClose } from '../close-to.ts'

const number = fc.double({ min: -3, max: 3, noNaN: true })
/** B B^T + 0.1 I: symmetric and positive definite. */
const definite = fc
  .array(fc.array(number, { minLength: 4, maxLength: 4 }), { minLength: 4, maxLength: 4 })
  .map((b) =>
    b.map((row, i) =>
      b.map((other, j) => row.reduce((sum, v, k) => sum + v * other[k]!, i === j ? 0.1 : 0)),
    ),
  )

describe('small dense linear algebra', () => {
  test('solves what it factored', () => {
    fc.assert(
      fc.property(definite, fc.array(number, { minLength: 4, maxLength: 4 }), (a, b) => {
        const x = solveCholesky(cholesky(a), b)
        for (const [i, row] of a.entries()) {
          const back = row.reduce((sum, v, k) => sum + v * x[k]!, 0)
          expect(Math.abs(back - b[i]!)).toBeLessThan(1e-7)
        }
      }),
    )
  })

  test('refuses a matrix that is not positive definite', () => {
    expect(() =>
      cholesky([
        [1, 2],
        [2, 1],
      ]),
    ).toThrow(RangeError)
  })

  test('gives the determinant of a two by two matrix', () => {
    const factor = cholesky([
      [4, 1],
      [1, 3],
    ])
    expectClose(logDeterminant(factor), Math.log(11), 1e-12)
  })

  test('finds the eigenvalues of the second difference matrix', () => {
    // Tridiagonal -1, 2, -1 of size n has 2 - 2 cos(k pi / (n + 1)); a standard result (Strang).
    const n = 6
    const matrix = Array.from({ length: n }, (_, i) =>
      Array.from({ length: n }, (_, j) => (i === j ? 2 : Math.abs(i - j) === 1 ? -1 : 0)),
    )
    const { values } = symmetricEigen(matrix)
    for (const [k, value] of values.entries())
      expectClose(value, 2 - 2 * Math.cos(((n - k) * Math.PI) / (n + 1)), 1e-12)
  })

  test('rebuilds the matrix from eigenvalues and vectors', () => {
    fc.assert(
      fc.property(definite, (a) => {
        const { values, vectors } = symmetricEigen(a)
        for (const [i, row] of a.entries())
          for (const [j, value] of row.entries()) {
            const back = values.reduce(
              (sum, v, k) => sum + v * vectors[k]![i]! * vectors[k]![j]!,
              0,
            )
            expect(Math.abs(back - value)).toBeLessThan(1e-9)
          }
      }),
    )
  })
})
