/**
 * Gaussian conditioning in coefficients: what observations teach about the numbers that stand for a
 * camera and for everything that several photos share.
 *
 * Source: Bayesian linear regression, e.g. Rasmussen & Williams, Gaussian Processes for Machine
 * Learning, eqs. 2.8 and 2.11; the same as conditioning the curves themselves.
 */
import { cholesky, logDeterminant, type Rows, solveCholesky } from '../numerics/linear-algebra.ts'

/** residual = loading . coefficients + noise */
export interface Observation {
  readonly residual: number
  readonly loading: readonly number[]
  readonly variance: number
}

export interface Conditioned {
  readonly mean: readonly number[]
  readonly covariance: Rows
  /** One row a coefficient, one column an observation: mean = gain times residuals. */
  readonly gain: Rows
  /** ln of the density of the residuals. */
  readonly logEvidence: number
  /** Each observation less what all others foretell of it, and the variance of that. */
  readonly leftOut: readonly { readonly mean: number; readonly variance: number }[]
}

/**
 * @param prior variances of the coefficients, which are independent with mean 0
 * @param observations each with variance > 0
 */
export function condition(
  prior: readonly number[],
  observations: readonly Observation[],
): Conditioned {
  const n = prior.length
  const diagonal = prior.map((variance, i) => prior.map((_, j) => (i === j ? variance : 0)))
  if (observations.length === 0)
    return {
      mean: prior.map(() => 0),
      covariance: diagonal,
      gain: prior.map(() => []),
      logEvidence: 0,
      leftOut: [],
    }
  const spread = observations.map(({ loading }) => loading.map((h, k) => h * prior[k]!))
  const covariance = observations.map(({ variance }, i) =>
    observations.map(({ loading }, j) => {
      let sum = i === j ? variance : 0
      for (let k = 0; k < n; k++) sum += spread[i]![k]! * loading[k]!
      return sum
    }),
  )
  const factor = cholesky(covariance)
  const residuals = observations.map(({ residual }) => residual)
  const weighted = solveCholesky(factor, residuals)
  const gain = prior.map((_, k) =>
    solveCholesky(
      factor,
      spread.map((row) => row[k]!),
    ),
  )
  const mean = prior.map((_, k) => dot(gain[k]!, residuals))
  // Rasmussen & Williams eqs. 5.12: from the diagonal of the inverse covariance.
  const leftOut = residuals.map((_, i) => {
    const unit = residuals.map((_, j) => (i === j ? 1 : 0))
    const variance = 1 / solveCholesky(factor, unit)[i]!
    return { mean: weighted[i]! * variance, variance }
  })
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      diagonal[i]![j]! -= gain[i]!.reduce((sum, g, o) => sum + g * spread[o]![j]!, 0)
  return {
    mean,
    covariance: diagonal,
    gain,
    leftOut,
    logEvidence:
      -0.5 *
      (dot(weighted, residuals) +
        logDeterminant(factor) +
        residuals.length * Math.log(2 * Math.PI)),
  }
}

export function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}

/** h^T C h for a symmetric C, never below 0. */
export function quadratic(h: readonly number[], covariance: Rows): number {
  let sum = 0
  for (let i = 0; i < h.length; i++) {
    const hi = h[i]!
    if (hi === 0) continue
    const row = covariance[i]!
    let off = 0
    for (let j = 0; j < i; j++) off += row[j]! * h[j]!
    sum += hi * (row[i]! * hi + 2 * off)
  }
  return Math.max(sum, 0)
}
