import type { Matrix3 } from './matrix3.ts'

/** Of rounding: relative to what an element could be. */
const ROUNDING = 1e-9

/**
 * Whether it can be the covariance of three numbers: finite, symmetric, positive semidefinite (no principal
 * minor below 0; Horn & Johnson, Matrix Analysis, 7.2.5).
 */
export function isCovariance([[a, d, e], [g, b, f], [h, i, c]]: Matrix3): boolean {
  const pair = (product: number, upper: number, lower: number) =>
    upper * upper <= (1 + ROUNDING) * product && (upper - lower) ** 2 <= ROUNDING ** 2 * product
  const determinant = a * (b * c - f * f) - d * (d * c - f * e) + e * (d * f - b * e)
  return (
    Math.min(a, b, c) >= 0 &&
    Number.isFinite(a + b + c) &&
    pair(a * b, d, g) &&
    pair(a * c, e, h) &&
    pair(b * c, f, i) &&
    determinant >= -ROUNDING * a * b * c
  )
}
