/**
 * Several readings by one camera at once: their temperatures as unknowns beside the camera's numbers,
 * seen by their colours and, where levels are comparable, by their brightness too.
 *
 * Each hypothesis of the camera is linear with normal errors, so that the temperatures come with a
 * covariance in which everything that the readings share is counted with its sign.
 */

import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import {
  type CameraPosterior,
  cameraPosterior,
  type Hypothesis,
  mostProbable,
  normalised,
} from './camera-posterior.ts'
import { type Conditioned, condition, dot, type Observation } from './conditioning.ts'
import {
  type GlowProblem,
  glowProblem,
  groupKey,
  ownVariances,
  readingEquation,
} from './glow-problem.ts'
import {
  levelEquation,
  levelOfReading,
  levelOfReference,
  type MeasuredLevel,
} from './level-equation.ts'
import { type MeasuredRatio, trueTemperatureOf } from './measured-ratio.ts'
import { standardisedResiduals, tolerateConflicts } from './reference-check.ts'
import type { BudgetTerm, GlowInput, KnownHeatReference } from './types.ts'

/** One hypothesis about camera, curve and levels: a normal distribution of the temperatures. */
export interface JointComponent {
  readonly weight: number
  /** True temperatures of the readings, K, and their covariance, K². */
  readonly temperaturesK: readonly number[]
  readonly covarianceK2: readonly (readonly number[])[]
  /** Variance of the first reading's temperature by cause, K². */
  readonly causes: ReadonlyMap<BudgetTerm, number>
}

export interface JointPosterior {
  readonly components: readonly JointComponent[]
  /**
   * How the levels of brightness were used: joined with colour; overruled by it, because a surface, a
   * shutter label or flare must have changed; or not there.
   */
  readonly levels: 'none' | 'joined' | 'overruled'
}

/** Prior of a temperature about where it is linearised, and of a level's gain in ln: without weight. */
const FREE_K = 500
const FREE_GAIN = 100
/** Newton steps: with the tone curves of single photos the start can be 100 K off. */
const STEPS = 3
/**
 * Levels can be wrong in ways that no term covers (another piece, smoke, a hand before the lens): so
 * often, and then by so much in ln.
 */
const ODD_LEVEL = { share: 0.15, sd: 0.4 }
/** Colour overrules the levels when they are more likely wrong than right. */
const OVERRULED = 0.5

/** Whether two readings can be put into one problem: the same camera, channels and balance. */
export function joinable(a: GlowInput, b: GlowInput): boolean {
  const state = ({ cameraId, channels, balanceState }: GlowInput) =>
    [cameraId, channels, balanceState.kind, balanceState.colourTemperatureK].join('|')
  return state(a) === state(b) && a.glow.mean[0] > 0 && b.glow.mean[0] > 0
}

/**
 * The joint posterior of readings by one camera in one state.
 *
 * @param inputs each {@link joinable} with the first; their known heats are taken together
 * @param startK a colour temperature of each to start from, K
 */
export function jointPosterior(
  inputs: readonly GlowInput[],
  startK: readonly number[],
  locus: CameraLocus = CAMERA_LOCUS,
): JointPosterior {
  const [first, ...others] = inputs as [GlowInput, ...GlowInput[]]
  const references = unionOf(inputs)
  const built = glowProblem({ ...first, references }, locus, others)
  const before = cameraPosterior(built)
  const problem = tolerateConflicts(before, standardisedResiduals(before))
  const posterior = mostProbable(problem === built ? before : cameraPosterior(problem))
  return jointOf(posterior, inputs, startK)
}

/** The same on a posterior of the camera that is at hand; its problem holds the other readings. */
export function jointOf(
  posterior: CameraPosterior,
  inputs: readonly GlowInput[],
  startK: readonly number[],
): JointPosterior {
  const { problem } = posterior
  const readings = [problem.reading, ...problem.others]
  const levels = levelsOf(problem, inputs)
  const states = levels === null ? [0] : [0, ODD_LEVEL.sd]
  const solved = posterior.hypotheses.flatMap((hypothesis) =>
    states.map((odd) => ({
      odd,
      ...solve(posterior, hypothesis, readings, startK, levels, odd),
    })),
  )
  const weights = normalised(
    solved.map(({ logWeight, odd }) => {
      if (levels === null) return logWeight
      return logWeight + Math.log(odd > 0 ? ODD_LEVEL.share : 1 - ODD_LEVEL.share)
    }),
  )
  const wrong = solved.reduce((sum, { odd }, i) => sum + (odd > 0 ? weights[i]! : 0), 0)
  return {
    components: solved.map(({ component }, i) => ({ ...component, weight: weights[i]! })),
    levels: levels === null ? 'none' : wrong > OVERRULED ? 'overruled' : 'joined',
  }
}

/** Known heats of all, each once; where one was measured anew the later one. */
function unionOf(inputs: readonly GlowInput[]): KnownHeatReference[] {
  const byId = new Map<string, KnownHeatReference>()
  for (const reference of inputs.flatMap((input) => input.references)) {
    const known = byId.get(reference.id)
    if (!known || known.takenAt < reference.takenAt) byId.set(reference.id, reference)
  }
  return [...byId.values()]
}

interface Levels {
  readonly references: readonly (MeasuredLevel | null)[]
  readonly readings: readonly (MeasuredLevel | null)[]
  /** Place of each error that levels share, after the coefficients of the colours. */
  readonly places: ReadonlyMap<string, number>
  readonly count: number
}

/** Null where fewer than two photos have a comparable level, or no reading has. */
function levelsOf(problem: GlowProblem, inputs: readonly GlowInput[]): Levels | null {
  const references = problem.references.map(({ reference }) => levelOfReference(reference))
  const readings = inputs.map(levelOfReading)
  const all = [...references, ...readings].filter((level) => level !== null)
  if (all.length < 2 || readings.every((level) => level === null)) return null
  const places = new Map<string, number>()
  const place = (key: string) => {
    if (!places.has(key)) places.set(key, problem.coefficients.length + places.size)
  }
  place(GAIN)
  place(BAND)
  for (const { shared } of all) for (const { key } of shared) place(key)
  for (const [i, level] of references.entries()) if (level) place(heatKey(i))
  return { references, readings, places, count: places.size }
}

const GAIN = 'gain'
const BAND = 'band'
const heatKey = (reference: number) => `heat ${reference}`

function solve(
  posterior: CameraPosterior,
  hypothesis: Hypothesis,
  readings: readonly MeasuredRatio[],
  startK: readonly number[],
  levels: Levels | null,
  odd: number,
) {
  const { problem } = posterior
  const { coldestK, hottestK } = problem.model
  let at = [...startK]
  let linear = linearised(posterior, hypothesis, readings, at, levels, odd)
  for (let step = 1; step < STEPS; step++) {
    at = at.map((kelvin, i) => {
      const next = kelvin + linear.conditioned.mean[linear.firstK + i]! * FREE_K
      return Math.min(Math.max(next, coldestK), hottestK)
    })
    linear = linearised(posterior, hypothesis, readings, at, levels, odd)
  }
  const { conditioned, firstK, slopes } = linear
  const { mean, covariance } = conditioned
  const colourK = at.map((kelvin, i) => kelvin + mean[firstK + i]! * FREE_K)
  const temperaturesK = colourK.map((kelvin, i) => trueTemperatureOf(kelvin, readings[i]!))
  // d true / d colour temperature = (T / Tc)² in Wien's approximation.
  const factors = temperaturesK.map((kelvin, i) => FREE_K * (kelvin / colourK[i]!) ** 2)
  const covarianceK2 = factors.map((a, i) =>
    factors.map((b, j) => a * b * covariance[firstK + i]![firstK + j]!),
  )
  // An even prior in what each reading sees, G/R, as for one reading alone.
  const evenness = slopes.reduce((sum, slope) => sum + Math.log(slope * FREE_K), 0)
  return {
    logWeight:
      Math.log(hypothesis.weight) +
      conditioned.logEvidence -
      hypothesis.conditioned.logEvidence +
      evenness,
    component: { weight: 0, temperaturesK, covarianceK2, causes: causesOf(linear, factors[0]!) },
  }
}

/** Variances of one observation's own errors, by cause. */
type Own = readonly { readonly term: BudgetTerm; readonly variance: number }[]

interface Linear {
  readonly conditioned: Conditioned
  readonly prior: readonly number[]
  readonly observations: readonly Observation[]
  readonly own: readonly Own[]
  readonly terms: readonly BudgetTerm[]
  /** Place of the first reading's temperature. */
  readonly firstK: number
  /** Of the faultless camera's green over colour temperature, 1/K, above 0. */
  readonly slopes: readonly number[]
}

function linearised(
  posterior: CameraPosterior,
  hypothesis: Hypothesis,
  readings: readonly MeasuredRatio[],
  at: readonly number[],
  levels: Levels | null,
  odd: number,
): Linear {
  const { problem } = posterior
  const colours = problem.coefficients.length
  const firstK = colours + (levels?.count ?? 0)
  const size = firstK + readings.length
  const padded = (loading: readonly number[]) => {
    const full = new Array<number>(size).fill(0)
    for (const [k, h] of loading.entries()) full[k] = h
    return full
  }
  const observations: Observation[] = []
  const own: Own[] = []
  const { curve, camera } = hypothesis
  for (const seen of posterior.observations[curve]![camera]!) {
    const loading = padded(seen.loading)
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
  const slopes: number[] = []
  for (const [i, reading] of readings.entries()) {
    const equation = readingEquation(problem, at[i]!, curve, camera, reading)
    const loading = padded(equation.loading)
    const steepness = dot(equation.cameraSlopes, hypothesis.conditioned.mean) - equation.slope
    // A camera whose green does not rise at all gives no number; half of the mean keeps it finite.
    const slope = Math.max(steepness, -0.5 * equation.slope)
    slopes.push(problem.model.green(at[i]!).slope)
    loading[firstK + i] = slope * FREE_K
    observations.push({ residual: equation.residual, loading, variance: equation.variance })
    own.push(ownVariances(reading, equation))
    if (equation.blue?.kind !== 'value') continue
    const { blue } = equation
    const byBlue = padded(blue.loading)
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
      const loading = padded([])
      loading[levels.places.get(GAIN)!] = FREE_GAIN
      loading[levels.places.get(BAND)!] = band
      for (const { key, standardUncertainty } of level.shared)
        loading[levels.places.get(key)!]! += standardUncertainty
      if (place !== undefined) loading[place] = slope * perUnit
      const variance = level.variance + odd ** 2
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
      add(level, kelvin, FREE_K * (kelvin / at[i]!) ** 2, firstK + i)
    }
  }
  const prior = new Array<number>(size).fill(1)
  for (const [k, variance] of hypothesis.conditioned.prior.entries()) prior[k] = variance
  const terms = [
    ...problem.coefficients.map(({ term }) => term),
    ...(levels ? [...levels.places.keys()].map(termOfKey) : []),
    ...readings.map((): BudgetTerm => 'pixel noise'),
  ]
  return {
    conditioned: condition(prior, observations),
    prior,
    observations,
    own,
    terms,
    firstK,
    slopes,
  }
}

const termOfKey = (key: string): BudgetTerm =>
  key.startsWith('heat ') ? 'reference temperature' : 'brightness'

/** What each cause does to the first reading: its temperature is a weighted sum of all residuals. */
function causesOf(
  { conditioned, prior, observations, own, terms, firstK }: Linear,
  perUnitK: number,
): Map<BudgetTerm, number> {
  const gain = conditioned.gain[firstK]!
  const causes = new Map<BudgetTerm, number>()
  const add = (term: BudgetTerm, variance: number) =>
    causes.set(term, (causes.get(term) ?? 0) + variance * perUnitK ** 2)
  for (let k = 0; k < firstK; k++) {
    const moved = observations.reduce((sum, { loading }, o) => sum + gain[o]! * loading[k]!, 0)
    add(terms[k]!, moved * moved * prior[k]!)
  }
  for (const [o, list] of own.entries())
    for (const { term, variance } of list) add(term, gain[o]! ** 2 * variance)
  return causes
}
