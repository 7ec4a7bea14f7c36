import type { Matrix2, Matrix3, Triple } from '../numerics/matrix3.ts'
import { propagate2 } from '../numerics/matrix3.ts'

/** CIE 1931 chromaticity. */
export interface Xy {
  readonly x: number
  readonly y: number
}
/** CIE 1976 uniform chromaticity scale: for showing colour differences. */
export interface UvPrime {
  readonly uPrime: number
  readonly vPrime: number
}
/** CIE 1960 uniform chromaticity scale: in it correlated colour temperature and Duv are defined. */
export interface Uv {
  readonly u: number
  readonly v: number
}

/**
 * Chromaticity of tristimulus values.
 *
 * @returns undefined where X + Y + Z is not above 0: black has no chromaticity
 * Source: CIE 15:2018, 7.3.
 */
export function xyFromXyz([X, Y, Z]: Triple): Xy | undefined {
  const sum = X + Y + Z
  if (!(sum > 0)) return undefined
  return { x: X / sum, y: Y / sum }
}

/**
 * Tristimulus values of a chromaticity at a given luminance.
 *
 * @param xy y = 0 has no luminance: a Y of 0 or below is returned as [0, 0, 0]
 */
export function xyzFromXy({ x, y }: Xy, luminance = 1): Triple {
  if (!(y > 0)) return [0, 0, 0]
  return [(x / y) * luminance, luminance, ((1 - x - y) / y) * luminance]
}

/**
 * CIE 1976 u', v'. Real chromaticities keep the denominator above 0 (3 - 2x + 12y).
 * Source: CIE 15:2018, 8.1.
 */
export function uvPrimeFromXy({ x, y }: Xy): UvPrime {
  const d = 3 - 2 * x + 12 * y
  return { uPrime: (4 * x) / d, vPrime: (9 * y) / d }
}

/** Inverse of {@link uvPrimeFromXy}; real chromaticities keep 6u' - 16v' + 12 above 0. */
export function xyFromUvPrime({ uPrime, vPrime }: UvPrime): Xy {
  const d = 6 * uPrime - 16 * vPrime + 12
  return { x: (9 * uPrime) / d, y: (4 * vPrime) / d }
}

/** CIE 1960 u, v: u = u', v = 2/3 v'. Source: CIE 15:2018, 9.5. */
export function uvFromXy({ x, y }: Xy): Uv {
  const d = 3 - 2 * x + 12 * y
  return { u: (4 * x) / d, v: (6 * y) / d }
}

/** Inverse of {@link uvFromXy}. */
export function xyFromUv({ u, v }: Uv): Xy {
  const d = 2 * u - 8 * v + 4
  return { x: (3 * u) / d, y: (2 * v) / d }
}

export function uvPrimeFromUv({ u, v }: Uv): UvPrime {
  return { uPrime: u, vPrime: 1.5 * v }
}

/** Inverse of {@link uvPrimeFromUv}. */
export function uvFromUvPrime({ uPrime, vPrime }: UvPrime): Uv {
  return { u: uPrime, v: vPrime / 1.5 }
}

/**
 * Covariance of x, y from the covariance of X, Y, Z, to first order.
 *
 * @returns undefined where X + Y + Z is not above 0
 * Source: JCGM 102:2011, 6.2.1.3, with the derivatives of x = X / (X + Y + Z).
 */
export function xyCovarianceFromXyz([X, Y, Z]: Triple, covariance: Matrix3): Matrix2 | undefined {
  const sum = X + Y + Z
  if (!(sum > 0)) return undefined
  const s2 = sum * sum
  const dx: Triple = [(Y + Z) / s2, -X / s2, -X / s2]
  const dy: Triple = [-Y / s2, (X + Z) / s2, -Y / s2]
  const quadratic = (a: Triple, b: Triple): number => {
    let total = 0
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) total += a[i]! * covariance[i]![j]! * b[j]!
    return total
  }
  const xy = quadratic(dx, dy)
  return [
    [quadratic(dx, dx), xy],
    [xy, quadratic(dy, dy)],
  ]
}

/** Derivatives of u', v' (rows) by x, y (columns). */
export function uvPrimeJacobian({ x, y }: Xy): Matrix2 {
  const d = 3 - 2 * x + 12 * y
  const d2 = d * d
  return [
    [(4 * (3 + 12 * y)) / d2, (-48 * x) / d2],
    [(18 * y) / d2, (9 * (3 - 2 * x)) / d2],
  ]
}

/** Covariance of u', v' from the covariance of x, y, to first order. */
export function uvPrimeCovarianceFromXy(xy: Xy, covariance: Matrix2): Matrix2 {
  return propagate2(uvPrimeJacobian(xy), covariance)
}

/** Derivatives of x, y (rows) by u', v' (columns): the inverse map's, see {@link uvPrimeJacobian}. */
export function xyJacobianFromUvPrime({ uPrime, vPrime }: UvPrime): Matrix2 {
  const d = 6 * uPrime - 16 * vPrime + 12
  const d2 = d * d
  return [
    [(9 * (12 - 16 * vPrime)) / d2, (144 * uPrime) / d2],
    [(-24 * vPrime) / d2, (4 * (12 + 6 * uPrime)) / d2],
  ]
}
