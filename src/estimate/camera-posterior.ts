/**
 * What is known of the camera after its references: a mixture over the heavy-tailed scales of its
 * coefficients and over the possible tone curves.
 */
import { type Conditioned, condition, dot, quadratic } from './conditioning.ts'
import {
  type GlowProblem,
  type ReadingEquation,
  type ReferenceObservation,
  readingEquation,
  referenceObservations,
} from './glow-problem.ts'
import { normalCdf, SCALES } from './heavy-tails.ts'

/** One possibility: a tone curve and the scales of the first two coefficients. */
export interface Possibility {
  readonly curve: number
  readonly prior: readonly number[]
  readonly conditioned: Conditioned
  readonly weight: number
}

export interface CameraPosterior {
  readonly problem: GlowProblem
  readonly possibilities: readonly Possibility[]
  /** Observations of the references for each tone curve. */
  readonly observations: readonly (readonly ReferenceObservation[])[]
}

/** Possibilities lighter than this change nothing. */
const LIGHTEST = 1e-5

/**
 * @param without index of a reference to leave out, to test it against the others
 */
export function cameraPosterior(problem: GlowProblem, without?: number): CameraPosterior {
  const observations = problem.curves.map((_, curve) => {
    const all = referenceObservations(problem, curve)
    return without === undefined ? all : all.filter((_, i) => i !== without)
  })
  const possibilities: Possibility[] = []
  const logWeights: number[] = []
  for (const [curve, { weight, contrast }] of problem.curves.entries()) {
    if (weight < LIGHTEST) continue
    const seen = observations[curve]!
    // Density of the decoded values, not of the straightened ones: the curve stretches them.
    let stretch = 0
    for (const [i, { measured }] of problem.references.entries()) {
      if (i === without || measured.corrections.length === 0) continue
      stretch +=
        (problem.model.scale === 'log' ? 0 : measured.corrections[curve]!) - Math.log(contrast)
    }
    for (const first of SCALES)
      for (const second of SCALES) {
        const prior = problem.coefficients.map(({ tail }) =>
          tail === 0 ? first.variance : tail === 1 ? second.variance : 1,
        )
        const conditioned = condition(prior, seen)
        possibilities.push({ curve, prior, conditioned, weight: 0 })
        logWeights.push(
          Math.log(weight * first.weight * second.weight) + conditioned.logEvidence + stretch,
        )
      }
  }
  const largest = Math.max(...logWeights)
  const weights = logWeights.map((value) => Math.exp(value - largest))
  const total = weights.reduce((sum, w) => sum + w, 0)
  return {
    problem,
    observations,
    possibilities: possibilities
      .map((possibility, i) => ({ ...possibility, weight: weights[i]! / total }))
      .filter(({ weight }) => weight > LIGHTEST),
  }
}

/** Mean and standard deviation of (measured - expected) of the reading at a colour temperature. */
export interface Departure {
  readonly mean: number
  readonly sd: number
}

export function departure(equation: ReadingEquation, { conditioned }: Possibility): Departure {
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
  for (const possibility of posterior.possibilities) {
    const { mean, sd } = departure(equations[possibility.curve]!, possibility)
    sum += possibility.weight * normalCdf(-mean / sd)
  }
  return sum
}

/** A quantile of the colour temperature, K; at an end of the locus where it lies beyond. */
export function quantile(posterior: CameraPosterior, probability: number): number {
  let low = posterior.problem.model.coldestK
  let high = posterior.problem.model.hottestK
  if (probabilityBelow(posterior, low) >= probability) return low
  if (probabilityBelow(posterior, high) <= probability) return high
  // Bisection in 1/T to a thousandth of a kelvin, cheap enough and never astray.
  while (high - low > 1e-3) {
    const middle = 2 / (1 / low + 1 / high)
    if (probabilityBelow(posterior, middle) < probability) low = middle
    else high = middle
  }
  return (low + high) / 2
}
