import type { Matrix2 } from '../numerics/matrix3.ts'

/**
 * Factor on the axes of {@link covarianceEllipse} at which the ellipse holds 95 % of a plane normal
 * distribution: 2.448, its square 5.991 (JCGM 102:2011, 6.5.2.3).
 */
export const COVERAGE_95_PLANE = Math.sqrt(-2 * Math.log(0.05))

export interface Ellipse {
  /** Standard deviations along the axes, in the unit of the coordinates; major >= minor >= 0. */
  readonly major: number
  readonly minor: number
  /** From the first coordinate's axis to the major one, anticlockwise, radians, (-pi/2, pi/2]. */
  readonly angle: number
}

/**
 * Axes of the covariance of two quantities: the ellipse one standard deviation from the mean.
 * It alone holds 39 %; for 95 % multiply both axes by {@link COVERAGE_95_PLANE}.
 *
 * @param covariance symmetric; rounding that makes an eigenvalue slightly negative counts as 0
 */
export function covarianceEllipse([[a, b], [, c]]: Matrix2): Ellipse {
  const mean = (a + c) / 2
  const half = Math.hypot((a - c) / 2, b)
  return {
    major: Math.sqrt(Math.max(mean + half, 0)),
    minor: Math.sqrt(Math.max(mean - half, 0)),
    angle: Math.atan2(2 * b, a - c) / 2,
  }
}

/** Covariance of an ellipse: the inverse of {@link covarianceEllipse}. */
export function covarianceFromEllipse({ major, minor, angle }: Ellipse): Matrix2 {
  const p = major * major
  const q = minor * minor
  const cos = Math.cos(angle)
  const sin = Math.sin(angle)
  const b = (p - q) * cos * sin
  return [
    [p * cos * cos + q * sin * sin, b],
    [b, p * sin * sin + q * cos * cos],
  ]
}
