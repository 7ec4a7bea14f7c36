import { expect, test } from 'vitest'
import { minimise, type Residuals } from '../../src/numerics/least-squares.ts'

/** NIST StRD, nonlinear regression, Misra1a: dental research, monomolecular adsorption. */
const VOLUME = [
  10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78,
]
const PRESSURE = [
  77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760,
]

/** y = b1 (1 - exp(-b2 x)), each residual divided by the standard deviation. */
const misra =
  (sd: number) =>
  (b: Float64Array): Residuals => ({
    value: VOLUME.map((y, i) => (b[0]! * -Math.expm1(-b[1]! * PRESSURE[i]!) - y) / sd),
    jacobian: PRESSURE.map((x) =>
      Float64Array.of(-Math.expm1(-b[1]! * x) / sd, (b[0]! * x * Math.exp(-b[1]! * x)) / sd),
    ),
  })

test.each([
  [500, 0.0001],
  [250, 0.0005],
])('finds the certified minimum of NIST’s Misra1a from %d, %d', (b1, b2) => {
  // Certified: 238.94212918 +- 2.7070075241, 5.5015643181e-4 +- 7.2668688436e-6, sum of squares
  // 0.12455138894 with 12 degrees of freedom (StRD, from memory).
  const sd = Math.sqrt(0.12455138894 / 12)
  const found = minimise(Float64Array.of(b1, b2), misra(sd))
  expect(found.converged).toBe(true)
  expect(found.parameters[0]! / 238.94212918).toBeCloseTo(1, 6)
  expect(found.parameters[1]! / 5.5015643181e-4).toBeCloseTo(1, 6)
  expect(found.cost * sd ** 2).toBeCloseTo(0.12455138894, 9)
  expect(Math.sqrt(found.covariance[0]![0]!) / 2.7070075241).toBeCloseTo(1, 4)
  expect(Math.sqrt(found.covariance[1]![1]!) / 7.2668688436e-6).toBeCloseTo(1, 4)
  // Two parameters: the determinant by hand from their covariance.
  const [[a, b], [c, d]] = found.covariance as unknown as [[number, number], [number, number]]
  expect(found.logDeterminant).toBeCloseTo(-Math.log(a! * d! - b! * c!), 6)
})

test('a fit that was cut short says so', () => {
  expect(minimise(Float64Array.of(500, 0.0001), misra(0.1), 1).converged).toBe(false)
})

test('a straight line with a prior is the weighted mean, in one step', () => {
  // 3 +- 1 and 6 +- 2: weights 1 and 1/4, mean 3.6, variance 0.8 (JCGM 100:2008, H.10, with weights).
  const found = minimise(Float64Array.of(100), ([x]) => ({
    value: [x! - 3, (x! - 6) / 2],
    jacobian: [Float64Array.of(1), Float64Array.of(0.5)],
  }))
  expect(found.parameters[0]).toBeCloseTo(3.6, 6)
  expect(found.covariance[0]![0]).toBeCloseTo(0.8, 6)
  expect(found.cost).toBeCloseTo(0.6 ** 2 + 1.2 ** 2, 6)
})

test('what grows beyond all bounds with a full step is reached by shorter ones', () => {
  // Gauss-Newton on atan leaves for infinity from |x| > 1.39 (textbook example).
  const found = minimise(Float64Array.of(3), ([x]) => ({
    value: [Math.atan(x!)],
    jacobian: [Float64Array.of(1 / (1 + x! * x!))],
  }))
  expect(Math.abs(found.parameters[0]!)).toBeLessThan(1e-4)
  expect(found.converged).toBe(true)
})
