/**
 * Where the uncertainty comes from: the reading's temperature as a linear function of everything
 * that errs, near the estimate (GUM, JCGM 100:2008, 5.1).
 */
import type { CameraPosterior, Hypothesis } from './camera-posterior.ts'
import { dot } from './conditioning.ts'
import { type ReadingEquation, readingEquation } from './glow-problem.ts'
import type { BudgetTerm, Contribution } from './types.ts'

/** Two-sided 95 % of a normal distribution. */
export const NORMAL_95 = 1.959964

type Variances = Map<BudgetTerm, number>

/**
 * Contributions to the standard uncertainty of the colour temperature, K, largest first.
 *
 * The linear terms are averaged over the possibilities. Their squares are then made to add up to
 * `standardUncertaintyK`, which comes from the propagated distribution: what heavy tails and
 * curvature add or take goes to the camera, or to the tone curve where that is the larger.
 */
export function budget(
  posterior: CameraPosterior,
  colourTemperatureK: number,
  standardUncertaintyK: number,
): Contribution[] {
  const { problem, hypotheses } = posterior
  const equations = problem.curves.map((_, curve) =>
    readingEquation(problem, colourTemperatureK, curve),
  )
  const total: Variances = new Map()
  const shifts = problem.curves.map(() => ({ weight: 0, sum: 0 }))
  for (const hypothesis of hypotheses) {
    const equation = equations[hypothesis.curve]!
    const slope = slopeOf(equation, hypothesis)
    const { weight } = hypothesis
    for (const [term, variance] of variancesOf(posterior, hypothesis, equation))
      total.set(term, (total.get(term) ?? 0) + (weight * variance) / slope ** 2)
    const shift = shifts[hypothesis.curve]!
    shift.weight += weight
    shift.sum +=
      (weight * (equation.residual - dot(equation.loading, hypothesis.conditioned.mean))) / slope
  }
  // A shared tone curve: how far the answers of the possible curves lie apart.
  const known = shifts.filter(({ weight }) => weight > 0)
  const mean = known.reduce((sum, shift) => sum + shift.sum, 0)
  const spread = known.reduce((sum, s) => sum + s.weight * (s.sum / s.weight - mean) ** 2, 0)
  if (problem.curves.length > 1) total.set('tone curve', (total.get('tone curve') ?? 0) + spread)
  return balanced(total, standardUncertaintyK ** 2)
}

/** How fast expected minus measured rises with temperature for this possibility, 1/K. */
function slopeOf(equation: ReadingEquation, { conditioned }: Hypothesis): number {
  const slope = -equation.slope + dot(equation.cameraSlopes, conditioned.mean)
  // A camera whose green does not rise at all gives no number; half of the mean keeps it finite.
  return Math.max(slope, -0.5 * equation.slope)
}

/** Variances of (measured - expected) by term; they add up to that of the departure. */
function variancesOf(
  posterior: CameraPosterior,
  { curve, prior, conditioned }: Hypothesis,
  equation: ReadingEquation,
): Variances {
  const { problem } = posterior
  const variances: Variances = new Map()
  const add = (term: BudgetTerm, variance: number) =>
    variances.set(term, (variances.get(term) ?? 0) + variance)
  const observations = posterior.observations[curve]!
  // Weight of each reference in what is expected of the reading.
  const weights = observations.map((_, i) =>
    equation.loading.reduce((sum, h, k) => sum + h * conditioned.gain[k]![i]!, 0),
  )
  for (const [k, { term }] of problem.coefficients.entries()) {
    let left = equation.loading[k]!
    for (const [i, { loading }] of observations.entries()) left -= weights[i]! * loading[k]!
    add(term, left * left * prior[k]!)
  }
  for (const [i, { photoVariance, temperatureVariance }] of observations.entries()) {
    add('reference photo', weights[i]! ** 2 * photoVariance)
    add('reference temperature', weights[i]! ** 2 * temperatureVariance)
  }
  for (const { term, variance } of problem.reading.own) add(term, variance * equation.gain ** 2)
  return variances
}

/**
 * Standard uncertainties of terms whose squares add up to a target: what is missing or too much goes to
 * the camera, or to the tone curve where that is the larger.
 */
export function balanced(variances: Variances, target: number): Contribution[] {
  const linear = [...variances.values()].reduce((sum, v) => sum + v, 0)
  let rest = target - linear
  const flexible: BudgetTerm[] = ['camera', 'tone curve']
  flexible.sort((a, b) => (variances.get(b) ?? 0) - (variances.get(a) ?? 0))
  for (const term of flexible) {
    const before = variances.get(term) ?? 0
    const after = Math.max(before + rest, 0)
    if (before > 0 || rest > 0) variances.set(term, after)
    rest -= after - before
  }
  // Still too much: the linear picture overstates all alike.
  const factor = rest < -1e-9 * target ? target / (target - rest) : 1
  return [...variances]
    .map(([term, variance]) => ({ term, standardUncertaintyK: Math.sqrt(variance * factor) }))
    .filter(({ standardUncertaintyK }) => standardUncertaintyK > 0)
    .sort((a, b) => b.standardUncertaintyK - a.standardUncertaintyK)
}
