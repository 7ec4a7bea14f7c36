/** References against each other: each is predicted from the camera and all the others. */
import { type CameraPosterior, cameraPosterior } from './camera-posterior.ts'
import { dot, quadratic } from './conditioning.ts'
import { type GlowProblem, referenceObservations } from './glow-problem.ts'

/** Beyond this many standard deviations a reference conflicts: 3 in 1000 do so by chance. */
const CONFLICT = 3
/** The residual that a conflicting reference is left with after its own variance was raised. */
const TOLERATED = 2

/** (observed - expected) / standard deviation of each reference, given all others. */
export function standardisedResiduals(problem: GlowProblem): number[] {
  return problem.references.map((_, i) => {
    const { mean, variance } = prediction(cameraPosterior(problem, i), problem, i)
    return mean / Math.sqrt(variance)
  })
}

/** Mean and variance of a reference's (observed - expected) over the possibilities. */
function prediction(posterior: CameraPosterior, problem: GlowProblem, i: number) {
  let mean = 0
  let square = 0
  const byCurve = problem.curves.map((_, curve) => referenceObservations(problem, curve)[i]!)
  for (const { curve, conditioned, weight } of posterior.possibilities) {
    const { residual, loading, variance } = byCurve[curve]!
    const left = residual - dot(loading, conditioned.mean)
    mean += weight * left
    square += weight * (left * left + quadratic(loading, conditioned.covariance) + variance)
  }
  return { mean, variance: square - mean * mean }
}

/**
 * Raises the own variance of references that conflict with the rest, until their residual is one
 * that happens. Two that contradict each other both lose weight, and the interval widens.
 */
export function tolerateConflicts(problem: GlowProblem, residuals: readonly number[]): GlowProblem {
  if (residuals.every((z) => Math.abs(z) <= CONFLICT)) return problem
  const own = referenceObservations(problem, 0)
  return {
    ...problem,
    references: problem.references.map((used, i) => {
      const z = residuals[i]!
      if (Math.abs(z) <= CONFLICT) return used
      const { mean, variance } = prediction(cameraPosterior(problem, i), problem, i)
      const wanted = (mean / TOLERATED) ** 2 - variance
      const inflation = 1 + Math.max(wanted, 0) / Math.max(own[i]!.variance, 1e-14)
      return { ...used, inflation }
    }),
  }
}

export const conflicts = (standardisedResidual: number): boolean =>
  Math.abs(standardisedResidual) > CONFLICT
