/** References against each other: each is predicted from the camera and all the others. */

import { normalCdf, normalQuantile } from '../numerics/heavy-tails.ts'
import { type CameraPosterior, logStretch, normalised } from './camera-posterior.ts'
import type { GlowProblem } from './glow-problem.ts'
import { type OtherSalt, otherSalt } from './mistaken-salt.ts'

/**
 * Beyond this many standard deviations of a normal a reference conflicts: 3 in 1000 do so by chance.
 */
const CONFLICT = 3
/** The residual that a conflicting reference is left with after its own variance was raised. */
const TOLERATED = 2

/** What speaks against a reference. */
export interface ReferenceDoubt {
  /**
   * How surprising it is, given all others: the chance of observed minus expected, put as deviations of
   * a normal distribution. An unusual camera surprises less than two melts of the same salt that
   * differ, because cameras have heavy tails and melts have not.
   */
  readonly standardisedResidual: number
  /** Another salt that it may have been. */
  readonly other: OtherSalt | null
}

export function referenceDoubts(posterior: CameraPosterior): ReferenceDoubt[] {
  const { problem } = posterior
  return problem.references.map((_, i) => {
    const departures = predicted(posterior, i)
    const side = departures.reduce((sum, { weight, mean, sd }) => sum + (weight * mean) / sd, 0)
    // The smaller tail keeps its digits.
    const sign = side < 0 ? -1 : 1
    const tail = departures.reduce(
      (sum, { weight, mean, sd }) => sum + weight * normalCdf((-sign * mean) / sd),
      0,
    )
    return {
      standardisedResidual: -sign * normalQuantile(tail),
      other: otherSalt(problem, i),
    }
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
 * widens. What an unusual camera or tone curve could explain is left to their own spread. A salt that may
 * have been another one may be either.
 */
export function tolerateConflicts(
  posterior: CameraPosterior,
  doubts: readonly ReferenceDoubt[],
): GlowProblem {
  const { problem, observations } = posterior
  if (!doubts.some(conflicts)) return problem
  const own = observations[0]![0]!
  return {
    ...problem,
    references: problem.references.map((used, i) => {
      const { other } = doubts[i]!
      const missing = Math.max(
        missingVariance(posterior, i, doubts[i]!),
        other ? (other.hotterK / TOLERATED) ** 2 * variancePerK2(problem, i) : 0,
      )
      return missing > 0 ? { ...used, inflation: 1 + missing / own[i]!.variance } : used
    }),
  }
}

/** What a reference lacks in variance for a residual that happens; 0 for one that does not conflict. */
function missingVariance(posterior: CameraPosterior, i: number, doubt: ReferenceDoubt): number {
  if (!surprising(doubt)) return 0
  // The camera and tone curve that would explain it best.
  const { mean, sd } = predicted(posterior, i).reduce((a, b) =>
    Math.abs(b.mean) / b.sd < Math.abs(a.mean) / a.sd ? b : a,
  )
  if (Math.abs(mean) <= CONFLICT * sd) return 0
  return (mean / TOLERATED) ** 2 - sd * sd
}

/** Of the value, for an error of 1 K in a reference's temperature. */
const variancePerK2 = ({ model, references }: GlowProblem, i: number): number =>
  model.green(references[i]!.colourTemperatureK).slope ** 2

const surprising = ({ standardisedResidual }: ReferenceDoubt): boolean =>
  Math.abs(standardisedResidual) > CONFLICT

export const conflicts = (doubt: ReferenceDoubt): boolean =>
  surprising(doubt) || doubt.other !== null
