import { MIRED, type PlanckFit, SLOPE } from './planck-fit.ts'

/**
 * The same fit with the slope of emissivity taken for certain: the normal distribution of all
 * parameters, conditioned on one of them.
 *
 * @param slope ln(emissivity at 550 nm / at 650 nm)
 * Source: Rasmussen & Williams 2006, eq. A.6.
 */
export function withKnownSlope(fit: PlanckFit, slope: number): PlanckFit {
  const { covariance } = fit
  const own = covariance[SLOPE]!
  const variance = own[SLOPE]!
  const mired = fit.mired + (own[MIRED]! / variance) * (slope - fit.slope)
  return {
    ...fit,
    mired,
    slope,
    covariance: covariance.map((row, i) =>
      row.map((value, j) => value - (own[i]! * own[j]!) / variance),
    ),
  }
}
