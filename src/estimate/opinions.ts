import { chiSquaredProbability } from '../numerics/chi-squared.ts'
import { cholesky, type Rows, solveCholesky } from '../numerics/linear-algebra.ts'

/** Ways to come to a temperature, each with its own errors. */
export type OpinionKind =
  | 'camera-colour'
  | 'brightness'
  | 'supply'
  | 'by-eye'
  | 'spectrum'
  | 'known-heat'

/** One independent source of error. */
export interface OpinionTerm {
  /** The same id in two opinions means the same error in both: one camera, one surface, one lamp. */
  readonly id: string
  /** What it moves this opinion by when it is one standard uncertainty up, K; may be negative. */
  readonly effectK: number
}

/** What one way says about one object at one moment. */
export interface Opinion {
  readonly id: string
  readonly kind: OpinionKind
  readonly temperatureK: number
  readonly terms: readonly OpinionTerm[]
}

/** Two opinions that err together. */
export interface SharedTerm {
  readonly ids: readonly [string, string]
  readonly termIds: readonly string[]
  /** -1..1 */
  readonly correlation: number
}

export interface OpinionWeight {
  readonly id: string
  readonly standardUncertaintyK: number
  /** Share in the combined value; can be negative where errors are strongly shared. */
  readonly weight: number
  /**
   * (this - what the others say) / its standard uncertainty, shared terms allowed for; undefined
   * when it is alone.
   */
  readonly standardisedDifference?: number
}

export interface CombinedValue {
  readonly temperatureK: number
  /** Widened by the Birge ratio where that is above 1. */
  readonly standardUncertaintyK: number
}

export interface CombinedOpinions extends CombinedValue {
  readonly ok: true
  /** From the covariance alone, K. */
  readonly internalUncertaintyK: number
  /** sqrt(chi-squared / degrees of freedom); 1 for a single opinion. */
  readonly birgeRatio: number
  readonly chiSquared: number
  readonly degreesOfFreedom: number
  /** Chance of a disagreement at least as large if all uncertainties are honest. */
  readonly probability: number
  readonly opinions: readonly OpinionWeight[]
  readonly shared: readonly SharedTerm[]
  readonly verdict: 'single' | 'agree' | 'odd-one-out' | 'disagree'
  /** The one without which the others agree, and what they then say together. */
  readonly oddOneOut?: CombinedValue & {
    readonly id: string
    /** Others whose removal would also make peace; with any, the odd one is not sure. */
    readonly rivals: readonly string[]
  }
}

/** - none: no opinion; not-finite: a number is missing; not-independent: two are one and the same. */
export interface OpinionRefusal {
  readonly ok: false
  readonly code: 'none' | 'not-finite' | 'not-independent'
}

/** Below this chance opinions disagree more than they should. */
export const DISAGREEMENT_PROBABILITY = 0.05
/** Opinions this far from the others (standard uncertainties) can be the odd one out. */
const ODD_DISTANCE = 2

/**
 * Generalised least squares of several opinions of one temperature, with errors that they share in
 * the covariance: V_ij = sum over common terms of effect_i effect_j.
 *
 * Strongly shared errors can put the combined value outside the opinions; that is right where the
 * effects are right, and a reason to state them well.
 *
 * @returns the combined value with its Birge ratio, how each opinion stands against the others, and
 *   the odd one out where taking one away lets the rest agree (three or more opinions)
 * Source: JCGM 100:2008 5.2 for the covariance; Birge 1932, Phys. Rev. 40, 207; e.g. Bich, Cox &
 *   Michotte 2012 for consensus by generalised least squares.
 */
export function combineOpinions(opinions: readonly Opinion[]): CombinedOpinions | OpinionRefusal {
  if (opinions.length === 0) return { ok: false, code: 'none' }
  const numbers = opinions.flatMap((o) => [o.temperatureK, ...o.terms.map((t) => t.effectK)])
  if (!numbers.every(Number.isFinite)) return { ok: false, code: 'not-finite' }
  const covariance = opinionCovariance(opinions)
  const values = opinions.map((opinion) => opinion.temperatureK)
  const all = leastSquares(values, covariance)
  if (!all) return { ok: false, code: 'not-independent' }
  const without = opinions.map((_, i) => withoutOne(values, covariance, i))
  const probability = chiSquaredProbability(all.chiSquared, values.length - 1)
  const disagree = probability < DISAGREEMENT_PROBABILITY
  const odd = disagree ? findOddOneOut(opinions, without) : undefined
  return {
    ok: true,
    ...widened(all, values.length),
    internalUncertaintyK: all.uncertainty,
    birgeRatio: birgeRatio(all, values.length),
    chiSquared: all.chiSquared,
    degreesOfFreedom: values.length - 1,
    probability,
    opinions: opinions.map(({ id }, i) => ({
      id,
      standardUncertaintyK: Math.sqrt(covariance[i]![i]!),
      weight: all.weights[i]!,
      ...(without[i] && { standardisedDifference: without[i].standardisedDifference }),
    })),
    shared: sharedTerms(opinions, covariance),
    verdict:
      opinions.length === 1 ? 'single' : !disagree ? 'agree' : odd ? 'odd-one-out' : 'disagree',
    ...(odd && { oddOneOut: odd }),
  }
}

/** Covariance of opinions from their shared terms, K^2. */
export function opinionCovariance(opinions: readonly Opinion[]): number[][] {
  return opinions.map((a) => {
    const effects = new Map<string, number>()
    for (const { id, effectK } of a.terms) effects.set(id, (effects.get(id) ?? 0) + effectK)
    return opinions.map((b) => {
      const merged = new Map<string, number>()
      for (const { id, effectK } of b.terms) merged.set(id, (merged.get(id) ?? 0) + effectK)
      let sum = 0
      for (const [id, effect] of merged) sum += effect * (effects.get(id) ?? 0)
      return sum
    })
  })
}

interface Fit {
  readonly value: number
  readonly uncertainty: number
  readonly weights: readonly number[]
  readonly chiSquared: number
}

function leastSquares(values: readonly number[], covariance: Rows): Fit | undefined {
  let factor: number[][]
  try {
    factor = cholesky(covariance)
  } catch {
    return undefined
  }
  const scale = Math.max(...covariance.map((row, i) => row[i]!))
  if (factor.some((row, i) => row[i]! ** 2 < 1e-12 * scale)) return undefined
  const u = solveCholesky(
    factor,
    values.map(() => 1),
  )
  const information = u.reduce((sum, x) => sum + x, 0)
  const weights = u.map((x) => x / information)
  const value = weights.reduce((sum, w, i) => sum + w * values[i]!, 0)
  const residuals = values.map((x) => x - value)
  const solved = solveCholesky(factor, residuals)
  const chiSquared = residuals.reduce((sum, r, i) => sum + r * solved[i]!, 0)
  return { value, uncertainty: 1 / Math.sqrt(information), weights, chiSquared }
}

const birgeRatio = (fit: Fit, count: number): number =>
  count > 1 ? Math.sqrt(fit.chiSquared / (count - 1)) : 1

const widened = (fit: Fit, count: number): CombinedValue => ({
  temperatureK: fit.value,
  standardUncertaintyK: fit.uncertainty * Math.max(1, birgeRatio(fit, count)),
})

interface Without {
  readonly fit: Fit
  readonly standardisedDifference: number
}

/** The fit of all but one, and how far that one stands from it. */
function withoutOne(
  values: readonly number[],
  covariance: Rows,
  index: number,
): Without | undefined {
  const others = values.map((_, i) => i).filter((i) => i !== index)
  if (others.length === 0) return undefined
  const fit = leastSquares(
    others.map((i) => values[i]!),
    others.map((i) => others.map((j) => covariance[i]![j]!)),
  )
  if (!fit) return undefined
  const common = others.reduce((sum, i, k) => sum + fit.weights[k]! * covariance[index]![i]!, 0)
  const variance = covariance[index]![index]! + fit.uncertainty ** 2 - 2 * common
  return { fit, standardisedDifference: (values[index]! - fit.value) / Math.sqrt(variance) }
}

function findOddOneOut(
  opinions: readonly Opinion[],
  without: readonly (Without | undefined)[],
): CombinedOpinions['oddOneOut'] {
  if (opinions.length < 3) return undefined
  const rest = opinions.length - 1
  const peacemakers = without
    .map((w, i) => ({ id: opinions[i]!.id, w }))
    .filter((c): c is { id: string; w: Without } => {
      if (!c.w || Math.abs(c.w.standardisedDifference) < ODD_DISTANCE) return false
      const probability = chiSquaredProbability(c.w.fit.chiSquared, rest - 1)
      return probability >= DISAGREEMENT_PROBABILITY
    })
    .sort((a, b) => a.w.fit.chiSquared - b.w.fit.chiSquared)
  const [first, ...rivals] = peacemakers
  if (!first) return undefined
  return { id: first.id, ...widened(first.w.fit, rest), rivals: rivals.map(({ id }) => id) }
}

function sharedTerms(opinions: readonly Opinion[], covariance: Rows): SharedTerm[] {
  const shared: SharedTerm[] = []
  for (const [i, a] of opinions.entries())
    for (const [j, b] of opinions.entries()) {
      if (j <= i) continue
      const has = new Set(b.terms.map((term) => term.id))
      const termIds = [...new Set(a.terms.map((term) => term.id))].filter((id) => has.has(id))
      if (termIds.length === 0) continue
      const spread = Math.sqrt(covariance[i]![i]! * covariance[j]![j]!)
      shared.push({ ids: [a.id, b.id], termIds, correlation: covariance[i]![j]! / spread })
    }
  return shared
}
