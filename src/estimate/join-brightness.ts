import { mixtureQuantiles } from '../numerics/mixture.ts'
import { balanced, NORMAL_95 } from './budget.ts'
import type { CameraPosterior } from './camera-posterior.ts'
import { jointOf } from './joint-posterior.ts'
import { colourTemperatureOf } from './measured-ratio.ts'
import { SharedEffects } from './shared-parts.ts'
import type { BudgetTerm, GlowInput, TemperatureEstimate } from './types.ts'

/**
 * A reading by colour joined with its brightness against known heats of the same camera; as it was
 * where levels are not comparable. Colour can overrule brightness, and then says so.
 */
export function joinBrightness(
  input: GlowInput,
  posterior: CameraPosterior,
  colour: TemperatureEstimate,
): TemperatureEstimate {
  if (!input.level) return colour
  const joint = jointOf(posterior, [input], [colour.colourTemperatureK])
  if (joint.levels === 'none') return colour
  const parts = joint.components.map(({ weight, temperaturesK, covarianceK2 }) => ({
    weight,
    mean: temperaturesK[0]!,
    sd: Math.sqrt(covarianceK2[0]![0]!),
  }))
  const [low, temperatureK, high] = mixtureQuantiles(parts, [0.025, 0.5, 0.975]) as [
    number,
    number,
    number,
  ]
  const expandedUncertaintyK = (high - low) / 2
  const standardUncertaintyK = expandedUncertaintyK / NORMAL_95
  const variances = new Map<BudgetTerm, number>()
  const shared = new SharedEffects()
  for (const { weight, causes } of joint.components) {
    for (const [term, variance] of causes.variances)
      variances.set(term, (variances.get(term) ?? 0) + weight * variance)
    for (const effect of causes.effects) shared.add(effect, weight)
  }
  const linear = new Map(variances)
  const budget = shared.within(balanced(variances, standardUncertaintyK ** 2), linear)
  return {
    ...colour,
    temperatureK,
    colourTemperatureK: colourTemperatureOf(temperatureK, posterior.problem.reading.lnSlope),
    standardUncertaintyK,
    expandedUncertaintyK,
    interval95K: [low, high],
    budget,
    dominant: budget[0]?.term ?? 'camera',
    findings: [
      ...colour.findings,
      joint.levels === 'joined'
        ? ({ code: 'brightness joined', colourAloneK: colour.standardUncertaintyK } as const)
        : ({ code: 'brightness overruled' } as const),
    ],
  }
}
