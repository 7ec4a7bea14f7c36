/**
 * Where the uncertainty comes from: the reading's temperature as a linear function of everything
 * that errs, near the estimate (GUM, JCGM 100:2008, 5.1).
 */
import type { CameraPosterior, Hypothesis } from './camera-posterior.ts'
import { dot } from './conditioning.ts'
import { ownVariances, type ReadingEquation, readingEquation } from './glow-equations.ts'
import { coefficientCauses, type Effect, heatCause, SharedEffects } from './shared-parts.ts'
import type { BudgetTerm, Contribution } from './types.ts'

/** Two-sided 95 % of a normal distribution. */
export const NORMAL_95 = 1.959964

type Variances = Map<BudgetTerm, number>

/**
 * Contributions to the standard uncertainty of the colour temperature, K, largest first.
 *
 * The linear terms are averaged over the hypotheses. Their squares are then made to add up to
 * `standardUncertaintyK`, which comes from the propagated distribution: what heavy tails and
 * curvature add goes to the largest of camera, leak and tone curve; what they take, to all alike.
 */
export function budget(
  posterior: CameraPosterior,
  colourTemperatureK: number,
  standardUncertaintyK: number,
): Contribution[] {
  const { problem, hypotheses } = posterior
  const equations = problem.curves.map((_, curve) =>
    problem.cameras.map((_, camera) => readingEquation(problem, colourTemperatureK, curve, camera)),
  )
  const total: Variances = new Map()
  const shared = new SharedEffects()
  const causes = coefficientCauses(problem)
  const byCurve = new Groups()
  const byCamera = new Groups()
  for (const hypothesis of hypotheses) {
    const { weight, curve, camera } = hypothesis
    const equation = equations[curve]![camera]!
    const { mean } = hypothesis.conditioned
    const slope = slopeOf(equation, mean)
    const { variances, effects } = variancesOf(posterior, hypothesis, equation, causes)
    for (const [term, variance] of variances)
      total.set(term, (total.get(term) ?? 0) + (weight * variance) / slope ** 2)
    for (const one of effects) shared.add({ ...one, effect: one.effect / slope }, weight)
    const shift = (equation.residual - dot(equation.loading, mean)) / slope
    byCurve.add(curve, weight, shift)
    byCamera.add(camera, weight, shift)
  }
  // A shared tone curve, a leak: how far the answers of the possible ones lie apart.
  const add = (term: BudgetTerm, variance: number) =>
    total.set(term, (total.get(term) ?? 0) + variance)
  if (problem.curves.length > 1) add('tone curve', byCurve.spread())
  add('infrared leak', byCamera.spread())
  const linear = new Map(total)
  return shared.within(balanced(total, standardUncertaintyK ** 2), linear)
}

/** Values in groups: the variance between the groups' means. */
class Groups {
  private readonly groups = new Map<number, { weight: number; sum: number }>()

  add(key: number, weight: number, value: number): void {
    const group = this.groups.get(key) ?? { weight: 0, sum: 0 }
    this.groups.set(key, { weight: group.weight + weight, sum: group.sum + weight * value })
  }

  spread(): number {
    const known = [...this.groups.values()].filter(({ weight }) => weight > 0)
    const mean = known.reduce((sum, group) => sum + group.sum, 0)
    return known.reduce((sum, g) => sum + g.weight * (g.sum / g.weight - mean) ** 2, 0)
  }
}

/** How fast expected minus measured rises with temperature for this hypothesis, 1/K. */
function slopeOf(equation: ReadingEquation, mean: readonly number[]): number {
  const slope = -equation.slope + dot(equation.cameraSlopes, mean)
  // A camera whose green does not rise at all gives no number; half of the mean keeps it finite.
  return Math.max(slope, -0.5 * equation.slope)
}

/** Variances of (measured - expected) by term, which add up to its own, and what is shared of them. */
function variancesOf(
  posterior: CameraPosterior,
  { curve, camera, conditioned }: Hypothesis,
  equation: ReadingEquation,
  causes: readonly string[],
): { readonly variances: Variances; readonly effects: readonly Effect[] } {
  const { problem } = posterior
  const variances: Variances = new Map()
  const add = (term: BudgetTerm, variance: number) =>
    variances.set(term, (variances.get(term) ?? 0) + variance)
  const effects: Effect[] = []
  const addShared = (term: BudgetTerm, cause: string, effect: number) => {
    add(term, effect ** 2)
    effects.push({ term, cause, effect })
  }
  const observations = posterior.observations[curve]![camera]!
  const { gain, prior } = conditioned
  // Weight of each reference in what is expected of the reading.
  const weights = observations.map((_, i) =>
    equation.loading.reduce((sum, h, k) => sum + h * gain[k]![i]!, 0),
  )
  for (const [k, { term }] of problem.coefficients.entries()) {
    let left = equation.loading[k] ?? 0
    for (const [i, { loading }] of observations.entries()) left -= weights[i]! * loading[k]!
    addShared(term, causes[k]!, left * Math.sqrt(prior[k]!))
  }
  // Green and blue of one reference err together by its temperature.
  const byTemperature = problem.references.map(() => 0)
  for (const [i, { photoVariance, byTemperature: effect, reference }] of observations.entries()) {
    add('reference photo', weights[i]! ** 2 * photoVariance)
    byTemperature[reference]! -= weights[i]! * effect
  }
  for (const [i, effect] of byTemperature.entries())
    addShared('reference temperature', heatCause(problem, i), effect)
  for (const { term, variance } of ownVariances(problem.reading, equation)) add(term, variance)
  return { variances, effects }
}

/**
 * Standard uncertainties of terms whose squares add up to a target: what is missing or too much goes to
 * the camera, or to the tone curve where that is the larger.
 */
export function balanced(variances: Variances, target: number): Contribution[] {
  const linear = [...variances.values()].reduce((sum, v) => sum + v, 0)
  const flexible: BudgetTerm[] = ['camera', 'tone curve', 'infrared leak']
  const [largest] = flexible.sort((a, b) => (variances.get(b) ?? 0) - (variances.get(a) ?? 0))
  if (target > linear) variances.set(largest!, (variances.get(largest!) ?? 0) + target - linear)
  // Too much: the linear picture overstates all alike.
  const factor = Math.min(target / linear, 1)
  return [...variances]
    .map(([term, variance]) => ({ term, standardUncertaintyK: Math.sqrt(variance * factor) }))
    .filter(({ standardUncertaintyK }) => standardUncertaintyK > 0)
    .sort((a, b) => b.standardUncertaintyK - a.standardUncertaintyK)
}
