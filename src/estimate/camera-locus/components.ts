import { symmetricEigen } from '../../numerics/linear-algebra.ts'
import type { RatioLocus } from './types.ts'

export interface Components extends RatioLocus {
  /** Scores of each component over the cameras, variance 1. */
  readonly scores: number[][]
}

/** Principal components of a weighted sample. */
export function components(
  curves: readonly (readonly number[])[],
  weights: readonly number[],
  count: number,
): Components {
  const centre = mean(curves, weights)
  const rest = curves.map((curve) => curve.map((value, i) => value - centre[i]!))
  // Reliability weights: the unbiased covariance divides by 1 - sum of squared weights.
  const divisor = 1 - weights.reduce((sum, w) => sum + w * w, 0)
  const covariance = centre.map((_, i) =>
    centre.map((_, j) => {
      let sum = 0
      for (const [c, row] of rest.entries()) sum += weights[c]! * row[i]! * row[j]!
      return sum / divisor
    }),
  )
  const { values, vectors } = symmetricEigen(covariance)
  const kept = vectors.slice(0, count)
  const sd = values.slice(0, count).map((value) => Math.sqrt(Math.max(value, 0)))
  // The sign of an eigenvector is arbitrary; a fixed one keeps the data file the same from run to
  // run.
  const sign = kept.map((vector) => (vector.reduce((sum, value) => sum + value, 0) < 0 ? -1 : 1))
  return {
    mean: centre,
    loadings: kept.map((vector, k) => scaled(vector, sd[k]! * sign[k]!)),
    scores: kept.map((vector, k) =>
      rest.map((row) => {
        const score = row.reduce((sum, value, i) => sum + value * vector[i]!, 0)
        return sd[k]! > 0 ? (score * sign[k]!) / sd[k]! : 0
      }),
    ),
  }
}

export const scaled = (values: readonly number[], factor: number) =>
  values.map((value) => value * factor)

export function mean(curves: readonly (readonly number[])[], weights: readonly number[]): number[] {
  const length = curves[0]?.length ?? 0
  return Array.from({ length }, (_, i) =>
    curves.reduce((sum, curve, c) => sum + weights[c]! * curve[i]!, 0),
  )
}

export function weighted(
  a: readonly number[],
  b: readonly number[],
  weights: readonly number[],
): number {
  return a.reduce((sum, value, i) => sum + weights[i]! * value * b[i]!, 0)
}
