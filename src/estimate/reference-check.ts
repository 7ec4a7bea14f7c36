/** References against each other: each is predicted from the camera and all the others. */

import { normalCdf, normalQuantile } from '../numerics/heavy-tails.ts'
import { type CameraPosterior, logStretch, normalised } from './camera-posterior.ts'
import type { GlowProblem } from './glow-problem.ts'

/**
 * Beyond this many standard deviations of a normal a reference conflicts: 3 in 1000 do so by chance.
 */
const CONFLICT = 3
/** The residual that a conflicting reference is left with after its own variance was raised. */
const TOLERATED = 2

/**
 * How surprising each reference is, given all others: the chance of observed minus expected, put
 * as deviations of a normal distribution. An unusual camera surprises less than two melts of the
 * same salt that differ, because cameras have heavy tails and melts have not.
 */
export function standardisedResiduals(posterior: CameraPosterior): number[] {
  return posterior.problem.references.map((_, i) => {
    const departures = predicted(posterior, i)
    const side = departures.reduce((sum, { weight, mean, sd }) => sum + (weight * mean) / sd, 0)
    // The smaller tail keeps its digits.
    const sign = side < 0 ? -1 : 1
    const tail = departures.reduce(
      (sum, { weight, mean, sd }) => sum + weight * normalCdf((-sign * mean) / sd),
      0,
    )
    return -sign * normalQuantile(tail)
  })
}

interface Predicted {
  readonly weight: number
  /** Observed less expected. */
  readonly mean: number
  readonly sd: number
}

/** What the other references predict of one; they alone weight the hypotheses. */
function predicted({ problem, hypotheses }: CameraPosterior, i: number): Predicted[] {
  const reference = problem.references[i]!
  const weights = normalised(
    hypotheses.map(({ curve, conditioned, weight }) => {
      const { mean, variance } = conditioned.leftOut(i)
      const own = -0.5 * ((mean * mean) / variance + Math.log(variance))
      return Math.log(weight) - own - logStretch(problem, reference, curve)
    }),
  )
  return hypotheses.map(({ conditioned }, k) => {
    const { mean, variance } = conditioned.leftOut(i)
    return { weight: weights[k]!, mean, sd: Math.sqrt(variance) }
  })
}

/**
 * Raises the own variance of references that no camera could see together with the rest, until their
 * residual is one that happens. Two that contradict each other both lose weight, and the interval
 * widens. What an unusual camera or tone curve could explain is left to their own spread.
 */
export function tolerateConflicts(
  posterior: CameraPosterior,
  residuals: readonly number[],
): GlowProblem {
  const { problem, observations } = posterior
  if (!residuals.some(conflicts)) return problem
  const own = observations[0]![0]!
  return {
    ...problem,
    references: problem.references.map((used, i) => {
      if (!conflicts(residuals[i]!)) return used
      // The camera and tone curve that would explain it best.
      const { mean, sd } = predicted(posterior, i).reduce((a, b) =>
        Math.abs(b.mean) / b.sd < Math.abs(a.mean) / a.sd ? b : a,
      )
      if (Math.abs(mean) <= CONFLICT * sd) return used
      const missing = (mean / TOLERATED) ** 2 - sd * sd
      return { ...used, inflation: 1 + missing / own[i]!.variance }
    }),
  }
}

export const conflicts = (standardisedResidual: number): boolean =>
  Math.abs(standardisedResidual) > CONFLICT
