import { normalCdf } from '../numerics/heavy-tails.ts'

/** Kinds of readings of a temperature, each with its own errors. */
export type EstimateKind =
  | 'camera colour'
  | 'brightness'
  | 'supply'
  | 'by eye'
  | 'spectrum'
  | 'known heat'

/** One independent source of error. */
export interface EstimateTerm {
  /** The same id in two estimates means the same error in both: one camera, one surface, one lamp. */
  readonly id: string
  /** What it moves this estimate by when it is one standard uncertainty up, K; may be negative. */
  readonly effectK: number
}

/** What one kind of reading says about one object at one moment. */
export interface SingleEstimate {
  readonly id: string
  readonly kind: EstimateKind
  readonly temperatureK: number
  readonly terms: readonly EstimateTerm[]
}

export interface Value {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
}

/** Two estimates that cannot both be true. */
export interface Contradiction {
  /** The hotter one first. */
  readonly ids: readonly [hot: string, cold: string]
  readonly differenceK: number
  /** Of the difference, correlations taken at their least, K. */
  readonly standardUncertaintyK: number
}

export interface OddOneOut {
  readonly id: string
  readonly side: 'hot' | 'cold'
  /** What the others say together. */
  readonly rest: Value
  /** Others whose removal would also end the contradiction; with any, the odd one is not sure. */
  readonly rivals: readonly string[]
}

/**
 * - single: one estimate, nothing to compare
 * - agree: no two differ by more than the standard uncertainty of their difference
 * - agree within what is known: they differ, but not by more than chance allows
 * - exclude each other: at least two cannot both be true; there is no joint figure
 */
export type Verdict = 'single' | 'agree' | 'agree within what is known' | 'exclude each other'

export interface Consensus {
  readonly ok: true
  readonly verdict: Verdict
  /** The consensus value; null where estimates exclude each other. Never outside their span. */
  readonly value: Value | null
  readonly estimates: readonly {
    readonly id: string
    readonly standardUncertaintyK: number
    /** Share in the consensus value, 0..1; null without one. */
    readonly weight: number | null
  }[]
  readonly contradictions: readonly Contradiction[]
  /** Null where none can be named: two alone, or no single one explains all contradictions. */
  readonly oddOneOut: OddOneOut | null
  /** Estimates that share an error with another, and the largest correlation among them. */
  readonly shared: { readonly ids: readonly string[]; readonly correlation: number } | null
}

/** - none: no estimate; not-finite: a number is missing, or an uncertainty is not above 0. */
export interface ConsensusRefusal {
  readonly ok: false
  readonly code: 'none' | 'not finite'
}

/** Below this chance, counted over all comparisons, estimates exclude each other. */
export const EXCLUSION_PROBABILITY = 0.05

/** How far a correlation may lie from the stated one. */
export const CORRELATION_SLACK = 0.2

/**
 * The consensus value of several estimates of one temperature, and whether they can all be true.
 *
 * Weights lie between 0 and 1 and give the least variance for the worst correlations within
 * {@link CORRELATION_SLACK} of the stated ones. Least squares with the stated covariance asks for
 * weights below 0 where errors are strongly shared: it takes the difference of two estimates as a
 * measure of the common error and extrapolates beyond both (Peelle's puzzle). That holds only if the
 * shared part is known to the last digit, which no budget here is. With weights of at least 0 the
 * value stays within the span of the estimates, and the variance stated is an upper bound for every
 * correlation within the slack.
 *
 * Contradictions are judged in pairs, with correlations lowered by the slack (the largest variance
 * of a difference); chances are multiplied by the number of independent comparisons (Bonferroni).
 *
 * Source: JCGM 100:2008, 5.2 for the covariance; for bounds under unknown correlation Julier &
 *   Uhlmann 1997, Proc. American Control Conference, 2369 (covariance intersection is the same bound
 *   for any correlation at all).
 */
export function consensus(estimates: readonly SingleEstimate[]): Consensus | ConsensusRefusal {
  if (estimates.length === 0) return { ok: false, code: 'none' }
  const covariance = estimateCovariance(estimates)
  const u = covariance.map((row, i) => Math.sqrt(row[i]!))
  const numbers = [...estimates.map(({ temperatureK }) => temperatureK), ...u]
  if (!numbers.every(Number.isFinite) || u.some((value) => !(value > 0)))
    return { ok: false, code: 'not finite' }
  const correlation = covariance.map((row, i) => row.map((v, j) => v / (u[i]! * u[j]!)))
  const all = { estimates, u, correlation }
  const pairs = differences(all)
  const chance = ({ standardised }: Difference) =>
    2 * normalCdf(-standardised) * Math.max(estimates.length - 1, 1)
  const excluded = pairs.filter((pair) => chance(pair) < EXCLUSION_PROBABILITY)
  const weights = excluded.length === 0 ? boundedWeights(all) : null
  const close = pairs.every(({ standardised }) => standardised <= 1)
  return {
    ok: true,
    verdict:
      estimates.length === 1
        ? 'single'
        : excluded.length > 0
          ? 'exclude each other'
          : close
            ? 'agree'
            : 'agree within what is known',
    value: weights && weightedValue(all, weights),
    estimates: estimates.map(({ id }, i) => ({
      id,
      standardUncertaintyK: u[i]!,
      weight: weights?.[i] ?? null,
    })),
    contradictions: excluded.map(({ hot, cold, differenceK, standardUncertaintyK }) => ({
      ids: [estimates[hot]!.id, estimates[cold]!.id],
      differenceK,
      standardUncertaintyK,
    })),
    oddOneOut: oddOneOut(all, excluded),
    shared: sharedErrors(all),
  }
}

/** Covariance of estimates from their shared terms, K². */
export function estimateCovariance(estimates: readonly SingleEstimate[]): number[][] {
  const effects = estimates.map(({ terms }) => {
    const merged = new Map<string, number>()
    for (const { id, effectK } of terms) merged.set(id, (merged.get(id) ?? 0) + effectK)
    return merged
  })
  return effects.map((a) =>
    effects.map((b) => {
      let sum = 0
      for (const [id, effect] of a) sum += effect * (b.get(id) ?? 0)
      return sum
    }),
  )
}

interface Problem {
  readonly estimates: readonly SingleEstimate[]
  readonly u: readonly number[]
  readonly correlation: readonly (readonly number[])[]
}

interface Difference {
  readonly hot: number
  readonly cold: number
  readonly differenceK: number
  readonly standardUncertaintyK: number
  readonly standardised: number
}

/** Of every pair. */
function differences({ estimates, u, correlation }: Problem): Difference[] {
  return estimates.flatMap((a, i) =>
    estimates.slice(i + 1).map((b, k): Difference => {
      const j = i + 1 + k
      const least = Math.max(correlation[i]![j]! - CORRELATION_SLACK, -1)
      const variance = u[i]! ** 2 + u[j]! ** 2 - 2 * least * u[i]! * u[j]!
      const standardUncertaintyK = Math.sqrt(variance)
      const difference = a.temperatureK - b.temperatureK
      const [hot, cold] = difference >= 0 ? [i, j] : [j, i]
      const differenceK = Math.abs(difference)
      const standardised = differenceK / standardUncertaintyK
      return { hot, cold, differenceK, standardUncertaintyK, standardised }
    }),
  )
}

const worstCovariance = ({ u, correlation }: Problem): number[][] =>
  correlation.map((row, i) =>
    row.map((r, j) => u[i]! * u[j]! * (i === j ? 1 : Math.min(r + CORRELATION_SLACK, 1))),
  )

/** Steps of {@link boundedWeights}; each lowers the variance, a dozen estimates need some hundred. */
const STEPS = 2000

/**
 * Weights of at least 0, summing to 1, of least worst-case variance: weight is moved from the
 * estimate where it costs most to the one where it costs least, as far as that helps.
 */
function boundedWeights(problem: Problem): number[] {
  const v = worstCovariance(problem)
  const n = v.length
  const best = problem.u.indexOf(Math.min(...problem.u))
  const weights: number[] = v.map((_, i) => (i === best ? 1 : 0))
  for (let step = 0; step < STEPS; step++) {
    const slope = v.map((row) => row.reduce((sum, x, j) => sum + x * weights[j]!, 0))
    let to = 0
    let from = -1
    for (let i = 0; i < n; i++) {
      if (slope[i]! < slope[to]!) to = i
      if (weights[i]! > 0 && (from < 0 || slope[i]! > slope[from]!)) from = i
    }
    const gain = slope[from]! - slope[to]!
    if (!(gain > 1e-12 * slope[from]!)) break
    const curvature = v[to]![to]! + v[from]![from]! - 2 * v[to]![from]!
    const moved = Math.min(curvature > 0 ? gain / curvature : 1, weights[from]!)
    weights[to]! += moved
    weights[from] = moved === weights[from] ? 0 : weights[from]! - moved
  }
  return weights
}

function weightedValue(problem: Problem, weights: readonly number[]): Value {
  const v = worstCovariance(problem)
  const kelvin = problem.estimates.map(({ temperatureK }) => temperatureK)
  // Rounding must not lead out of the span either.
  const mean = weights.reduce((sum, w, i) => sum + w * kelvin[i]!, 0)
  const temperatureK = Math.min(Math.max(mean, Math.min(...kelvin)), Math.max(...kelvin))
  const variance = weights.reduce(
    (sum, w, i) => sum + w * weights.reduce((row, x, j) => row + x * v[i]![j]!, 0),
    0,
  )
  return { temperatureK, standardUncertaintyK: Math.sqrt(variance) }
}

/** The one that takes part in every contradiction, where the rest is more than one estimate. */
function oddOneOut(problem: Problem, excluded: readonly Difference[]): OddOneOut | null {
  const { estimates } = problem
  if (excluded.length === 0 || estimates.length < 3) return null
  const candidates = estimates
    .map((estimate, i) => {
      if (!excluded.every(({ hot, cold }) => hot === i || cold === i)) return null
      const rest = without(problem, i)
      const value = weightedValue(rest, boundedWeights(rest))
      const distance = Math.abs(estimate.temperatureK - value.temperatureK)
      const side = estimate.temperatureK > value.temperatureK ? ('hot' as const) : ('cold' as const)
      return { id: estimate.id, side, rest: value, standing: distance / problem.u[i]! }
    })
    .filter((candidate) => candidate !== null)
    .sort((a, b) => b.standing - a.standing)
  const [first, ...rivals] = candidates
  if (!first) return null
  const { id, side, rest } = first
  return { id, side, rest, rivals: rivals.map((rival) => rival.id) }
}

function without({ estimates, u, correlation }: Problem, index: number): Problem {
  const kept = <T>(list: readonly T[]) => list.filter((_, i) => i !== index)
  return { estimates: kept(estimates), u: kept(u), correlation: kept(correlation).map(kept) }
}

/** Correlations below this are not worth a word. */
const LEAST_SHARED = 0.05

function sharedErrors({ estimates, correlation }: Problem): Consensus['shared'] {
  const largest = correlation.map((row, i) =>
    row.reduce((most, r, j) => (i !== j && Math.abs(r) > Math.abs(most) ? r : most), 0),
  )
  const ids = estimates.map(({ id }) => id).filter((_, i) => Math.abs(largest[i]!) >= LEAST_SHARED)
  if (ids.length === 0) return null
  const most = largest.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a))
  return { ids, correlation: most }
}
