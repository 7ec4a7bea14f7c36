import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  uvFromXy,
  uvPrimeCovarianceFromXy,
  uvPrimeFromXy,
  uvPrimeJacobian,
  xyCovarianceFromXyz,
  xyFromUvPrime,
  xyFromXyz,
  xyJacobianFromUvPrime,
  xyzFromXy,
} from '../../src/colour/chromaticity.ts'
import type { Matrix2, Matrix3, Triple } from '../../src/numerics/matrix3.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

/** Chromaticities of real lights, off the very corners. */
const real = fc
  .record({
    x: fc.double({ min: 0.05, max: 0.73, noNaN: true }),
    y: fc.double({ min: 0.05, max: 0.83, noNaN: true }),
  })
  .filter(({ x, y }) => x + y < 0.99)

test('published chromaticities convert to their published u, v', () => {
  // D65: u' = 0.1978, v' = 0.4683 (CIE 15:2004, table T.3).
  const d65 = uvPrimeFromXy({ x: 0.31272, y: 0.32903 })
  expectPrinted(d65.uPrime, '0.1978')
  expectPrinted(d65.vPrime, '0.4683')
  // A: u' = 0.2560, v' = 0.5243, and on the 1960 diagram v = 0.3495 (CIE 15:2004, table T.3).
  const a = uvPrimeFromXy({ x: 0.44758, y: 0.40745 })
  expectPrinted(a.uPrime, '0.2560')
  expectPrinted(a.vPrime, '0.5243')
  expectPrinted(uvFromXy({ x: 0.44758, y: 0.40745 }).v, '0.3495')
})

test('equal-energy white is at 4/19, 9/19', () => {
  const white = uvPrimeFromXy({ x: 1 / 3, y: 1 / 3 })
  expectClose(white.uPrime, 4 / 19, 1e-15)
  expectClose(white.vPrime, 9 / 19, 1e-15)
})

test('black has no chromaticity', () => {
  expect(xyFromXyz([0, 0, 0])).toBeUndefined()
  expect(xyFromXyz([-1, 0.5, 0])).toBeUndefined()
  expect(xyFromXyz([Number.NaN, 1, 1])).toBeUndefined()
  expect(xyzFromXy({ x: 0.3, y: 0 })).toEqual([0, 0, 0])
  const none: Matrix3 = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ]
  expect(xyCovarianceFromXyz([0, 0, 0], none)).toBeUndefined()
})

describe('covariance propagation', () => {
  test('the Jacobian of u, v by x, y is the slope of the conversion', () => {
    fc.assert(
      fc.property(real, ({ x, y }) => {
        const h = 1e-6
        const [[ux, uy], [vx, vy]] = uvPrimeJacobian({ x, y })
        const right = uvPrimeFromXy({ x: x + h, y })
        const left = uvPrimeFromXy({ x: x - h, y })
        const up = uvPrimeFromXy({ x, y: y + h })
        const down = uvPrimeFromXy({ x, y: y - h })
        // Central differences err by h² and by rounding over h, 1e-10.
        expect(Math.abs(ux - (right.uPrime - left.uPrime) / 2 / h)).toBeLessThan(1e-8)
        expect(Math.abs(vx - (right.vPrime - left.vPrime) / 2 / h)).toBeLessThan(1e-8)
        expect(Math.abs(uy - (up.uPrime - down.uPrime) / 2 / h)).toBeLessThan(1e-8)
        expect(Math.abs(vy - (up.vPrime - down.vPrime) / 2 / h)).toBeLessThan(1e-8)
      }),
    )
  })

  test('the two Jacobians are inverse matrices', () => {
    fc.assert(
      fc.property(real, (xy) => {
        const [[a, b], [c, d]] = uvPrimeJacobian(xy)
        const [[p, q], [r, s]] = xyJacobianFromUvPrime(uvPrimeFromXy(xy))
        expect(Math.abs(a * p + b * r - 1)).toBeLessThan(1e-12)
        expect(Math.abs(a * q + b * s)).toBeLessThan(1e-12)
        expect(Math.abs(c * p + d * r)).toBeLessThan(1e-12)
        expect(Math.abs(c * q + d * s - 1)).toBeLessThan(1e-12)
      }),
    )
  })

  test('it predicts the scatter of many perturbed colours', () => {
    // Sigma points: the mean of squares over +-sqrt(3) sigma steps is exact to second order.
    const xyz: Triple = [0.9, 0.5, 0.02]
    const sigma: Triple = [0.004, 0.003, 0.0005]
    const xyzCovariance: Matrix3 = [
      [sigma[0] ** 2, 0, 0],
      [0, sigma[1] ** 2, 0],
      [0, 0, sigma[2] ** 2],
    ]
    const xyCovariance = xyCovarianceFromXyz(xyz, xyzCovariance)!
    const covariance = uvPrimeCovarianceFromXy(xyFromXyz(xyz)!, xyCovariance)
    const centre = uvPrimeFromXy(xyFromXyz(xyz)!)
    const scatter = [0, 0, 0]
    for (let k = 0; k < 3; k++) {
      for (const side of [-1, 1]) {
        const moved = xyz.map((value, i) => (i === k ? value + side * sigma[k]! : value))
        const uv = uvPrimeFromXy(xyFromXyz(moved as unknown as Triple)!)
        const du = uv.uPrime - centre.uPrime
        const dv = uv.vPrime - centre.vPrime
        scatter[0]! += (du * du) / 2
        scatter[1]! += (du * dv) / 2
        scatter[2]! += (dv * dv) / 2
      }
    }
    expectClose(covariance[0][0], scatter[0]!, 1e-3)
    expectClose(covariance[0][1], scatter[1]!, 1e-3)
    expectClose(covariance[1][1], scatter[2]!, 1e-3)
  })

  test('a covariance stays one: symmetric, no negative variance', () => {
    fc.assert(
      fc.property(
        real,
        fc.double({ min: 1e-6, max: 0.1, noNaN: true }),
        fc.double({ min: 1e-6, max: 0.1, noNaN: true }),
        fc.double({ min: -0.99, max: 0.99, noNaN: true }),
        (xy, sx, sy, correlation) => {
          const c = correlation * sx * sy
          const given: Matrix2 = [
            [sx * sx, c],
            [c, sy * sy],
          ]
          const [[a, b], [b2, d]] = uvPrimeCovarianceFromXy(xy, given)
          expectClose(b, b2, 1e-9)
          expect(a).toBeGreaterThan(0)
          expect(d).toBeGreaterThan(0)
          expect(a * d - b * b2).toBeGreaterThan(0)
        },
      ),
    )
  })
})

test('conversions of real lights are finite', () => {
  fc.assert(
    fc.property(real, (xy) => {
      const uv = uvPrimeFromXy(xy)
      const back = xyFromUvPrime(uv)
      expect([uv.uPrime, uv.vPrime, back.x, back.y].every(Number.isFinite)).toBe(true)
    }),
  )
})
