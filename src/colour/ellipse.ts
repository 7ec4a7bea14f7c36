import type { Matrix2 } from './vectors.ts'

/**
 * Squared radius, in standard deviations, of the ellipse that holds 95 % of a plane normal
 * distribution: -2 ln(0.05), chi-squared with 2 degrees of freedom (JCGM 102:2011, 6.5.2.3).
 */
export const COVERAGE_95_SQUARED = -2 * Math.log(0.05)

export interface Ellipse {
  /** Half axes, in the unit of the coordinates; major >= minor >= 0. */
  readonly major: number
  readonly minor: number
  /** From the first coordinate's axis to the major one, anticlockwise, radians, (-pi/2, pi/2]. */
  readonly angle: number
}

/**
 * Coverage ellipse of two correlated quantities.
 *
 * @param covariance symmetric; rounding that makes an eigenvalue slightly negative counts as 0
 * @param coverageSquared squared radius in standard deviations, default 95 %
 */
export function covarianceEllipse(
  [[a, b], [, c]]: Matrix2,
  coverageSquared = COVERAGE_95_SQUARED,
): Ellipse {
  const mean = (a + c) / 2
  const half = Math.hypot((a - c) / 2, b)
  const radius = (variance: number) => Math.sqrt(Math.max(variance, 0) * coverageSquared)
  return {
    major: radius(mean + half),
    minor: radius(mean - half),
    angle: Math.atan2(2 * b, a - c) / 2,
  }
}

/** Covariance of an ellipse: the inverse of {@link covarianceEllipse}. */
export function covarianceFromEllipse(
  { major, minor, angle }: Ellipse,
  coverageSquared = COVERAGE_95_SQUARED,
): Matrix2 {
  const p = (major * major) / coverageSquared
  const q = (minor * minor) / coverageSquared
  const cos = Math.cos(angle)
  const sin = Math.sin(angle)
  const b = (p - q) * cos * sin
  return [
    [p * cos * cos + q * sin * sin, b],
    [b, p * sin * sin + q * cos * cos],
  ]
}
