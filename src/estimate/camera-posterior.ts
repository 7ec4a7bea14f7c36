/**
 * What is known of the camera after its references: a mixture over the heavy-tailed scales of its
 * coefficients, over what its filter may leak and over the possible tone curves.
 */

import { COARSE_SCALES, SCALES } from '../numerics/heavy-tails.ts'
import { type Conditioned, condition } from './conditioning.ts'
import { type ReferenceObservation, referenceObservations } from './glow-equations.ts'
import type { GlowProblem, UsedReference } from './glow-problem.ts'

/** One hypothesis: a tone curve, a range of leaks and the scales of the first two coefficients. */
export interface Hypothesis {
  readonly curve: number
  /** Place among the problem's cameras. */
  readonly camera: number
  readonly conditioned: Conditioned
  readonly weight: number
}

export interface CameraPosterior {
  readonly problem: GlowProblem
  readonly hypotheses: readonly Hypothesis[]
  /** ln of the likelihood of all references together. */
  readonly logEvidence: number
  /** Observations of the references for each tone curve and each camera. */
  readonly observations: readonly (readonly (readonly ReferenceObservation[])[])[]
}

/** Within a tone curve and leak: scales whose prior weighs less are not tried. */
const LEAST_PRIOR = 1e-3
/** The lightest hypotheses that together weigh no more than this are left out. */
const LEFT_OUT = 2e-3

/** No heavy tail. */
const PLAIN = [{ variance: 1, weight: 1 }]

/** All hypotheses, conditioned on the references and weighted by their marginal likelihood. */
export function cameraPosterior(problem: GlowProblem): CameraPosterior {
  const observations = problem.curves.map((_, curve) =>
    problem.cameras.map((_, camera) => referenceObservations(problem, curve, camera)),
  )
  // An unknown tone curve is the larger uncertainty by far.
  const [firsts, seconds] =
    problem.curves.length > 1 ? [COARSE_SCALES, PLAIN] : [SCALES, COARSE_SCALES]
  const hypotheses: Hypothesis[] = []
  const logWeights: number[] = []
  for (const [curve, { weight }] of problem.curves.entries()) {
    const stretch = problem.references.reduce((sum, r) => sum + logStretch(problem, r, curve), 0)
    for (const [camera, { leak }] of problem.cameras.entries()) {
      const seen = observations[curve]![camera]!
      for (const first of firsts)
        for (const second of seconds) {
          if (first.weight * second.weight < LEAST_PRIOR) continue
          const prior = problem.coefficients.map(({ tail }) =>
            tail === 0 ? first.variance : tail === 1 ? second.variance : 1,
          )
          const conditioned = condition(prior, seen)
          hypotheses.push({ curve, camera, conditioned, weight: 0 })
          logWeights.push(
            Math.log(weight * leak.weight * first.weight * second.weight) +
              conditioned.logEvidence +
              stretch,
          )
        }
    }
  }
  const weights = normalised(logWeights)
  return {
    problem,
    observations,
    logEvidence: logSum(logWeights),
    hypotheses: hypotheses.map((one, i) => ({ ...one, weight: weights[i]! })),
  }
}

/**
 * ln of how far a tone curve stretches a reference's values: densities are those of the decoded
 * values, not of the straightened ones.
 */
export function logStretch(problem: GlowProblem, reference: UsedReference, curve: number): number {
  const correction = reference.measured.corrections[curve]
  if (correction === undefined) return 0
  const { kind, contrast } = problem.curves[curve]!
  // Kept hue keeps G/R where blue is low.
  const bend = kind === 'channel' ? Math.log(contrast) : 0
  return (problem.model.scale === 'log' ? 0 : correction) - bend
}

function logSum(logs: readonly number[]): number {
  const largest = Math.max(...logs)
  return largest + Math.log(logs.reduce((sum, value) => sum + Math.exp(value - largest), 0))
}

export function normalised(logWeights: readonly number[]): number[] {
  const largest = Math.max(...logWeights)
  const weights = logWeights.map((value) => Math.exp(value - largest))
  const total = weights.reduce((sum, w) => sum + w, 0)
  return weights.map((w) => w / total)
}

/**
 * The posterior without the hypotheses that hardly matter. Of each range of leaks that is itself
 * possible some stay: the reading's blue may yet speak for it.
 */
export function mostProbable(posterior: CameraPosterior): CameraPosterior {
  const sorted = [...posterior.hypotheses].sort((a, b) => b.weight - a.weight)
  const total = new Map<number, number>()
  for (const { camera, weight } of sorted) total.set(camera, (total.get(camera) ?? 0) + weight)
  const seen = new Map<number, number>()
  let sum = 0
  const kept = sorted.filter(({ camera, weight }) => {
    const mine = seen.get(camera) ?? 0
    const wanted = sum < 1 - LEFT_OUT || mine < (1 - LEFT_SHARE) * total.get(camera)!
    if (total.get(camera)! < LEFT_OUT / 10 || !wanted) return false
    seen.set(camera, mine + weight)
    sum += weight
    return true
  })
  return { ...posterior, hypotheses: kept.map((one) => ({ ...one, weight: one.weight / sum })) }
}

/** Within one range of leaks. */
const LEFT_SHARE = 0.02
