/**
 * What is known of the camera after its references: a mixture over the heavy-tailed scales of its
 * coefficients and over the possible tone curves.
 */

import { normalCdf, SCALES } from '../numerics/heavy-tails.ts'
import { type Conditioned, condition, dot, quadratic } from './conditioning.ts'
import {
  type GlowProblem,
  type ReadingEquation,
  type ReferenceObservation,
  readingEquation,
  referenceObservations,
  type UsedReference,
} from './glow-problem.ts'

/** One possibility: a tone curve and the scales of the first two coefficients. */
export interface Hypothesis {
  readonly curve: number
  readonly prior: readonly number[]
  readonly conditioned: Conditioned
  readonly weight: number
}

export interface CameraPosterior {
  readonly problem: GlowProblem
  readonly hypotheses: readonly Hypothesis[]
  /** Observations of the references for each tone curve. */
  readonly observations: readonly (readonly ReferenceObservation[])[]
}

/** The lightest possibilities that together weigh no more than this are left out. */
const LEFT_OUT = 1e-3

/** All possibilities, conditioned on the references and weighed by what they foretold of them. */
export function cameraPosterior(problem: GlowProblem): CameraPosterior {
  const observations = problem.curves.map((_, curve) => referenceObservations(problem, curve))
  const hypotheses: Hypothesis[] = []
  const logWeights: number[] = []
  for (const [curve, { weight }] of problem.curves.entries()) {
    const seen = observations[curve]!
    const stretch = problem.references.reduce((sum, r) => sum + logStretch(problem, r, curve), 0)
    for (const first of SCALES)
      for (const second of SCALES) {
        const prior = problem.coefficients.map(({ tail }) =>
          tail === 0 ? first.variance : tail === 1 ? second.variance : 1,
        )
        const conditioned = condition(prior, seen)
        hypotheses.push({ curve, prior, conditioned, weight: 0 })
        logWeights.push(
          Math.log(weight * first.weight * second.weight) + conditioned.logEvidence + stretch,
        )
      }
  }
  const weights = normalised(logWeights)
  return {
    problem,
    observations,
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

export function normalised(logWeights: readonly number[]): number[] {
  const largest = Math.max(...logWeights)
  const weights = logWeights.map((value) => Math.exp(value - largest))
  const total = weights.reduce((sum, w) => sum + w, 0)
  return weights.map((w) => w / total)
}

/** The posterior without the possibilities that hardly matter. */
export function mostProbable(posterior: CameraPosterior): CameraPosterior {
  const sorted = [...posterior.hypotheses].sort((a, b) => b.weight - a.weight)
  let kept = 0
  let sum = 0
  while (kept < sorted.length && sum < 1 - LEFT_OUT) sum += sorted[kept++]!.weight
  const hypotheses = sorted.slice(0, kept).map((one) => ({ ...one, weight: one.weight / sum }))
  return { ...posterior, hypotheses }
}

/** Mean and standard deviation of (measured - expected) of the reading at a colour temperature. */
export interface Residual {
  readonly mean: number
  readonly sd: number
}

export function residualOf(equation: ReadingEquation, { conditioned }: Hypothesis): Residual {
  return {
    mean: equation.residual - dot(equation.loading, conditioned.mean),
    sd: Math.sqrt(quadratic(equation.loading, conditioned.covariance) + equation.variance),
  }
}

/**
 * Probability that the colour temperature is below a value: that a camera like this would see more
 * green at that temperature than was measured. Propagation of distributions (JCGM 101:2008) through
 * a ratio that rises with temperature.
 */
export function probabilityBelow(posterior: CameraPosterior, colourTemperatureK: number): number {
  const equations = posterior.problem.curves.map((_, curve) =>
    readingEquation(posterior.problem, colourTemperatureK, curve),
  )
  let sum = 0
  for (const hypothesis of posterior.hypotheses) {
    const { mean, sd } = residualOf(equations[hypothesis.curve]!, hypothesis)
    sum += hypothesis.weight * normalCdf(-mean / sd)
  }
  return sum
}

/** Coarse temperatures between which quantiles are looked for, evenly in 1/T. */
const COARSE = 14

/**
 * Quantiles of the colour temperature, K; at an end of the locus where they lie beyond.
 *
 * @param probabilities 0..1
 */
export function quantiles(posterior: CameraPosterior, probabilities: readonly number[]): number[] {
  const { coldestK, hottestK } = posterior.problem.model
  const coarse = Array.from({ length: COARSE }, (_, i) => {
    const share = i / (COARSE - 1)
    const temperatureK = 1 / ((1 - share) / coldestK + share / hottestK)
    return { temperatureK, below: probabilityBelow(posterior, temperatureK) }
  })
  return probabilities.map((probability) => {
    const above = coarse.findIndex(({ below }) => below >= probability)
    if (above === 0) return coldestK
    if (above < 0) return hottestK
    const [low, high] = [coarse[above - 1]!, coarse[above]!]
    return falsePosition(
      (temperatureK) => probabilityBelow(posterior, temperatureK) - probability,
      { x: low.temperatureK, y: low.below - probability },
      { x: high.temperatureK, y: high.below - probability },
    )
  })
}

interface Bracket {
  readonly x: number
  readonly y: number
}

/** Largest error of a quantile, K. */
const TOLERANCE_K = 2e-3

/**
 * Root between two points of opposite sign: false position, each third step a bisection, so that
 * flat ends of a distribution cannot stall it.
 */
function falsePosition(f: (x: number) => number, from: Bracket, to: Bracket): number {
  let [low, high] = [from, to]
  let last = Number.NaN
  for (let step = 1; high.x - low.x > TOLERANCE_K; step++) {
    const secant = low.x - (low.y * (high.x - low.x)) / (high.y - low.y)
    const x = step % 3 === 0 ? (low.x + high.x) / 2 : secant
    if (Math.abs(x - last) < TOLERANCE_K / 2 && step % 3 !== 0) return x
    last = x
    const point = { x, y: f(x) }
    if (point.y < 0) low = point
    else high = point
  }
  return (low.x + high.x) / 2
}
