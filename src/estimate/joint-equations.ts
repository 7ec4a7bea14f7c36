/**
 * All observations of several readings, colours and levels, linear about a temperature of each: what
 * they say, and what each cause does to the first reading.
 */
import type { CameraPosterior, Hypothesis } from './camera-posterior.ts'
import { type Conditioned, condition, dot, type Observation, padded } from './conditioning.ts'
import { ownVariances, readingEquation } from './glow-equations.ts'
import { groupKey } from './glow-problem.ts'
import { BAND, causeOfKey, GAIN, heatKey, type Levels, termOfKey } from './joint-levels.ts'
import { levelEquation, type MeasuredLevel } from './level-equation.ts'
import type { LevelState } from './level-states.ts'
import { type MeasuredRatio, trueTemperatureOf } from './measured-ratio.ts'
import { coefficientCauses, type Effect } from './shared-parts.ts'
import type { BudgetTerm } from './types.ts'

/** Prior of a temperature about where it is linearised, and of a level's gain in ln: without weight. */
export const FREE_K = 500
const FREE_GAIN = 100

/** Variances of one observation's own errors, by cause. */
type Own = readonly { readonly term: BudgetTerm; readonly variance: number }[]

/** Where a reading may lie at all, K: its colour temperature alone, wider than it is known. */
export interface Whereabouts {
  readonly colourTemperatureK: number
  readonly widthK: number
}

export interface Linear {
  readonly conditioned: Conditioned
  readonly prior: readonly number[]
  readonly observations: readonly Observation[]
  readonly own: readonly Own[]
  readonly terms: readonly BudgetTerm[]
  /** Names of the shared errors, those of the levels last. */
  readonly causes: readonly string[]
  /** Place of the first reading's temperature. */
  readonly firstK: number
  /** Of the faultless camera's green over colour temperature, 1/K, above 0. */
  readonly slopes: readonly number[]
}

export function linearised(
  posterior: CameraPosterior,
  hypothesis: Hypothesis,
  readings: readonly MeasuredRatio[],
  at: readonly number[],
  whereabouts: readonly Whereabouts[],
  levels: Levels | null,
  state: LevelState,
): Linear {
  const { problem } = posterior
  const colours = problem.coefficients.length
  const firstK = colours + (levels?.count ?? 0)
  const size = firstK + readings.length
  const observations: Observation[] = []
  const own: Own[] = []
  const { curve, camera } = hypothesis
  for (const seen of posterior.observations[curve]![camera]!) {
    const loading = padded(seen.loading, size)
    const heat = levels?.places.get(heatKey(seen.reference))
    const { photoVariance, byTemperature, residual } = seen
    if (heat !== undefined) loading[heat] = byTemperature
    const variance = heat === undefined ? seen.variance : photoVariance
    // Green and blue of one heat err together by its temperature, which has its own place here.
    const together = heat === undefined ? seen.together : undefined
    observations.push({ residual, loading, variance, ...(together && { together }) })
    own.push([
      { term: 'reference photo', variance: photoVariance },
      { term: 'reference temperature', variance: variance - photoVariance },
    ])
  }
  for (const [i, { colourTemperatureK, widthK }] of whereabouts.entries()) {
    const loading = padded([], size)
    loading[firstK + i] = FREE_K
    observations.push({ residual: colourTemperatureK - at[i]!, loading, variance: widthK ** 2 })
    own.push([])
  }
  const slopes: number[] = []
  for (const [i, reading] of readings.entries()) {
    const equation = readingEquation(problem, at[i]!, curve, camera, reading)
    const loading = padded(equation.loading, size)
    const steepness = dot(equation.cameraSlopes, hypothesis.conditioned.mean) - equation.slope
    // A camera whose green does not rise at all gives no number; half of the mean keeps it finite.
    const slope = Math.max(steepness, -0.5 * equation.slope)
    slopes.push(problem.model.green(at[i]!).slope)
    loading[firstK + i] = slope * FREE_K
    observations.push({ residual: equation.residual, loading, variance: equation.variance })
    own.push(ownVariances(reading, equation))
    if (equation.blue?.kind !== 'value') continue
    const { blue } = equation
    const byBlue = padded(blue.camera, size)
    byBlue[firstK + i] = -blue.slope * FREE_K
    observations.push({ residual: blue.residual, loading: byBlue, variance: blue.variance })
    own.push([{ term: 'camera', variance: blue.variance }])
  }
  if (levels) {
    const add = (
      level: MeasuredLevel,
      kelvin: number,
      perUnit: number,
      place: number | undefined,
    ) => {
      const { residual, slope, band } = levelEquation(level, kelvin)
      const loading = padded([], size)
      loading[levels.places.get(GAIN)!] = FREE_GAIN
      loading[levels.places.get(BAND)!] = band
      for (const { key, standardUncertainty } of level.shared)
        loading[levels.places.get(key)!]! += standardUncertainty
      if (place !== undefined) loading[place] = slope * perUnit
      const variance = level.variance + state.sd ** 2
      observations.push({ residual, loading, variance })
      own.push([{ term: 'brightness', variance }])
    }
    for (const [i, level] of levels.references.entries()) {
      if (!level) continue
      const { reference, inflation } = problem.references[i]!
      const { temperatureK, standardUncertaintyK, group } = reference
      // The sign of byTemperature: measured less expected falls as the heat was hotter than stated.
      const unit = -standardUncertaintyK * Math.sqrt(inflation)
      const place =
        group === null ? levels.places.get(heatKey(i)) : problem.places.get(groupKey(group))
      add(level, temperatureK, unit, place)
    }
    for (const [i, level] of levels.readings.entries()) {
      if (!level) continue
      const kelvin = trueTemperatureOf(at[i]!, readings[i]!)
      const whole = { ...level, value: level.value + state.lost }
      add(whole, kelvin, FREE_K * (kelvin / at[i]!) ** 2, firstK + i)
    }
  }
  const prior = new Array<number>(size).fill(1)
  for (const [k, variance] of hypothesis.conditioned.prior.entries()) prior[k] = variance
  const terms = [
    ...problem.coefficients.map(({ term }) => term),
    ...(levels ? [...levels.places.keys()].map(termOfKey) : []),
    ...readings.map((): BudgetTerm => 'pixel noise'),
  ]
  const causes = [
    ...coefficientCauses(problem),
    ...(levels ? [...levels.places.keys()].map((key) => causeOfKey(key, problem)) : []),
  ]
  return {
    conditioned: condition(prior, observations),
    prior,
    observations,
    own,
    terms,
    causes,
    firstK,
    slopes,
  }
}

/** Variances of the first reading's temperature by term, K², and what is shared of them, K. */
export interface JointCauses {
  readonly variances: ReadonlyMap<BudgetTerm, number>
  readonly effects: readonly Effect[]
}

/** What each cause does to the first reading: its temperature is a weighted sum of all residuals. */
export function jointCauses(
  { conditioned, prior, observations, own, terms, causes, firstK }: Linear,
  perUnitK: number,
): JointCauses {
  const gain = conditioned.gain[firstK]!
  const variances = new Map<BudgetTerm, number>()
  const effects: Effect[] = []
  const add = (term: BudgetTerm, variance: number) =>
    variances.set(term, (variances.get(term) ?? 0) + variance * perUnitK ** 2)
  for (let k = 0; k < firstK; k++) {
    const moved = observations.reduce((sum, { loading }, o) => sum + gain[o]! * loading[k]!, 0)
    const effect = moved * Math.sqrt(prior[k]!)
    add(terms[k]!, effect ** 2)
    effects.push({ term: terms[k]!, cause: causes[k]!, effect: effect * perUnitK })
  }
  for (const [o, list] of own.entries())
    for (const { term, variance } of list) add(term, gain[o]! ** 2 * variance)
  return { variances, effects }
}
