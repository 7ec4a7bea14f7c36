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
  /** One a coefficient. */
  readonly loading: readonly number[]
  readonly variance: number
  /** An earlier observation whose noise errs together with this one's. */
  readonly together?: { readonly index: number; readonly covariance: number }
}

/** A linear function of the coefficients, predicted. Its loading may end early: the rest of it is 0. */
export interface Predicted {
  readonly mean: number
  /** What each observation takes off the covariance of two functions. */
  readonly whitened: readonly number[]
}

export interface LeftOut {
  readonly mean: number
  readonly variance: number
}

/** The coefficients after all observations. What is costly is worked out when it is asked for. */
export class Conditioned {
  readonly logEvidence: number
  private readonly spread: readonly (readonly number[])[]
  private readonly factor: Rows
  private readonly weighted: readonly number[]
  private readonly residuals: readonly number[]

  /**
   * @param prior variances of the coefficients, which are independent with mean 0
   * @param observations each with variance > 0
   */
  constructor(
    readonly prior: readonly number[],
    observations: readonly Observation[],
  ) {
    this.spread = observations.map(({ loading }) => loading.map((h, k) => h * prior[k]!))
    const covariance = observations.map(({ variance }, i) =>
      observations.map(({ loading }, j) => {
        let sum = i === j ? variance : 0
        const row = this.spread[i]!
        for (let k = 0; k < loading.length; k++) sum += row[k]! * loading[k]!
        return sum
      }),
    )
    for (const [i, { together }] of observations.entries())
      if (together) {
        covariance[i]![together.index]! += together.covariance
        covariance[together.index]![i]! += together.covariance
      }
    this.residuals = observations.map(({ residual }) => residual)
    this.factor = observations.length > 0 ? cholesky(covariance) : []
    this.weighted = observations.length > 0 ? solveCholesky(this.factor, this.residuals) : []
    this.logEvidence =
      observations.length === 0
        ? 0
        : -0.5 *
          (dot(this.weighted, this.residuals) +
            logDeterminant(this.factor) +
            observations.length * Math.log(2 * Math.PI))
  }

  /** Mean of loading . coefficients. */
  predict(loading: readonly number[]): Predicted {
    const { spread, factor, weighted } = this
    const whitened: number[] = []
    let mean = 0
    for (let i = 0; i < spread.length; i++) {
      const seen = dot(loading, spread[i]!)
      mean += weighted[i]! * seen
      let left = seen
      const row = factor[i]!
      for (let j = 0; j < i; j++) left -= row[j]! * whitened[j]!
      whitened.push(left / row[i]!)
    }
    return { mean, whitened }
  }

  /** Covariance of two functions of the coefficients; never below 0 for one with itself. */
  covarianceOf(a: readonly number[], b: readonly number[], inA: Predicted, inB: Predicted): number {
    const { prior } = this
    const count = Math.min(a.length, b.length)
    let sum = 0
    for (let k = 0; k < count; k++) sum += prior[k]! * a[k]! * b[k]!
    for (let i = 0; i < inA.whitened.length; i++) sum -= inA.whitened[i]! * inB.whitened[i]!
    return a === b ? Math.max(sum, 0) : sum
  }

  /** One row a coefficient, one column an observation: mean = gain times residuals. */
  get gain(): Rows {
    return this.prior.map((_, k) =>
      this.residuals.length === 0
        ? []
        : solveCholesky(
            this.factor,
            this.spread.map((row) => row[k]!),
          ),
    )
  }

  get mean(): readonly number[] {
    return this.prior.map((_, k) =>
      this.spread.reduce((sum, row, i) => sum + row[k]! * this.weighted[i]!, 0),
    )
  }

  get covariance(): Rows {
    const { gain } = this
    return this.prior.map((variance, i) =>
      this.prior.map((_, j) =>
        this.spread.reduce((sum, row, o) => sum - gain[i]![o]! * row[j]!, i === j ? variance : 0),
      ),
    )
  }

  /**
   * Each observation less what all others predict of it, and the variance of that.
   * Rasmussen & Williams eqs. 5.12: from the diagonal of the inverse covariance.
   */
  leftOut(i: number): LeftOut {
    const unit = this.residuals.map((_, j) => (i === j ? 1 : 0))
    const variance = 1 / solveCholesky(this.factor, unit)[i]!
    return { mean: this.weighted[i]! * variance, variance }
  }
}

export function condition(
  prior: readonly number[],
  observations: readonly Observation[],
): Conditioned {
  return new Conditioned(prior, observations)
}

/** A loading of that many coefficients, with 0 after its own. */
export function padded(loading: readonly number[], count: number): number[] {
  const full = new Array<number>(count).fill(0)
  for (let k = 0; k < loading.length; k++) full[k] = loading[k]!
  return full
}

/** Sum over the elements of `a`; `b` may be longer. */
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
