import { cholesky, solveCholesky } from '../../numerics/linear-algebra.ts'
/**
 * Mean of a selection of readings with the right weights.
 *
 * Readings of one phone err together: averaging a hundred of them does not make the phone's own
 * error smaller. Weights are those of generalised least squares with the common causes in the
 * covariance (GUM, JCGM 100:2008, 5.2; Aitken 1935); the uncertainty of the mean is stated in its
 * common part, which more readings do not shrink, and its independent part, which they do.
 *
 * Readings that scatter more than their uncertainties allow (the piece was not at one temperature)
 * get a variance between readings, tau², such that chi² equals its degrees of freedom (Paule &
 * Mandel 1982, J. Res. Natl. Bur. Stand. 87, 377).
 */
import { alikeInParts, type Budgeted, type Cause, causeOf, splitBudget } from './shared-terms.ts'

export interface SelectionStatistics {
  readonly count: number
  readonly coldestK: number
  readonly hottestK: number
  /** Plain mean and standard deviation (n - 1), K; the latter is null for one reading. */
  readonly meanK: number
  readonly standardDeviationK: number | null
  readonly weightedMeanK: number
  /** Of the weighted mean: common and independent part together, K. */
  readonly standardUncertaintyK: number
  readonly commonK: number
  readonly independentK: number
  /** Scatter between the readings beyond their uncertainties, tau, K. */
  readonly betweenK: number
  /** sqrt(chi² / (n - 1)) without tau (Birge 1932): about 1 when they agree; null for one. */
  readonly birgeRatio: number | null
  /** Causes that two or more share, with their part of the mean's uncertainty, weightiest first. */
  readonly causes: readonly (Cause & { readonly contributionK: number })[]
  /** Some uncertainty has no budget; it is counted as common, so that it is not averaged away. */
  readonly partlyUnknown: boolean
  readonly weights: readonly number[]
}

/** Stands for uncertainty without a budget. */
const UNKNOWN = 'unknown'
/** Smallest own variance, K²: a thousandth of a kelvin keeps the system solvable. */
const OWN_LEAST_K2 = 1e-6
/** Causes that are weighed as common; more rarely matter, and are then weighed as own. */
const CAUSES_MOST = 60

interface Item {
  readonly temperatureK: number
  readonly ownK2: number
  /** Index of cause, signed contribution. */
  readonly shared: readonly (readonly [cause: number, contributionK: number])[]
}

/** Null for an empty selection. Temperatures only: bounds have no place in a mean. */
export function statisticsOf(values: readonly Budgeted[]): SelectionStatistics | null {
  if (values.length === 0) return null
  const { items, causes } = itemsOf(values)
  const n = items.length
  const level = levelled(items, causes.length)

  const chiSquared = (tau2: number) => solve(level, causes.length, tau2).chiSquared
  const chiSquared0 = chiSquared(0)
  const tau2 = n > 1 && chiSquared0 > n - 1 ? excessVariance(chiSquared, n - 1, items) : 0
  let { weights } = solve(level, causes.length, tau2)
  // Negative weights say that the covariance claims more than anyone knows: own variances then.
  if (weights.some((w) => w < 0)) weights = normalised(items.map((i) => 1 / (i.ownK2 + tau2)))

  const common = new Float64Array(causes.length)
  let independentK2 = 0
  let weightedMeanK = 0
  items.forEach(({ temperatureK, ownK2, shared }, i) => {
    const w = weights[i]!
    weightedMeanK += w * temperatureK
    independentK2 += w ** 2 * (ownK2 + tau2)
    for (const [cause, contribution] of shared) common[cause]! += w * contribution
  })
  const commonK2 = common.reduce((sum, c) => sum + c ** 2, 0)
  const temperatures = values.map((value) => value.temperatureK)
  const meanK = temperatures.reduce((sum, t) => sum + t, 0) / n
  const squares = temperatures.reduce((sum, t) => sum + (t - meanK) ** 2, 0)
  return {
    count: n,
    coldestK: temperatures.reduce((a, b) => Math.min(a, b)),
    hottestK: temperatures.reduce((a, b) => Math.max(a, b)),
    meanK,
    standardDeviationK: n > 1 ? Math.sqrt(squares / (n - 1)) : null,
    weightedMeanK,
    standardUncertaintyK: Math.sqrt(commonK2 + independentK2),
    commonK: Math.sqrt(commonK2),
    independentK: Math.sqrt(independentK2),
    betweenK: Math.sqrt(tau2),
    birgeRatio: n > 1 ? Math.sqrt(chiSquared0 / (n - 1)) : null,
    causes: causes
      .map((cause, k) => ({ cause, contributionK: Math.abs(common[k]!) }))
      .filter(({ cause }) => cause !== UNKNOWN)
      .map(({ cause, contributionK }) => ({ ...causeOf(cause), contributionK }))
      .sort((a, b) => b.contributionK - a.contributionK),
    partlyUnknown: causes.includes(UNKNOWN),
    weights: [...weights],
  }
}

/** A cause that one reading alone has is its own; causes of two and more are common. */
function itemsOf(values: readonly Budgeted[]): { items: Item[]; causes: string[] } {
  const splits = alikeInParts(values.map(splitBudget)).map(({ ownK2, shared, unknownK2 }) => ({
    ownK2,
    shared: new Map(shared).set(UNKNOWN, Math.sqrt(unknownK2)),
  }))
  const totals = new Map<string, { holders: number; squares: number }>()
  for (const { shared } of splits) {
    for (const [cause, c] of shared) {
      if (c === 0) continue
      const { holders = 0, squares = 0 } = totals.get(cause) ?? {}
      totals.set(cause, { holders: holders + 1, squares: squares + c ** 2 })
    }
  }
  const causes = [...totals]
    .filter(([cause, { holders }]) => holders > 1 || cause === UNKNOWN)
    .sort((a, b) => b[1].squares - a[1].squares)
    .slice(0, CAUSES_MOST)
    .map(([cause]) => cause)
  const place = new Map(causes.map((cause, k) => [cause, k]))
  const items = splits.map(({ ownK2, shared }, i) => {
    let own = ownK2
    const common: [number, number][] = []
    for (const [cause, c] of shared) {
      const k = place.get(cause)
      if (k === undefined) own += c ** 2
      else if (c !== 0) common.push([k, c])
    }
    return {
      temperatureK: values[i]!.temperatureK,
      ownK2: Math.max(own, OWN_LEAST_K2),
      shared: common,
    }
  })
  return { items, causes }
}

/**
 * The same with each cause's contributions set to their root mean square. With unequal ones least
 * squares leans on the reading that claims the smaller share of a common error, and the mean can
 * fall outside of all readings (Peelle's puzzle); how a common error divides is not known that well.
 */
function levelled(items: readonly Item[], causes: number): Item[] {
  const squares = new Float64Array(causes)
  const holders = new Float64Array(causes)
  for (const { shared } of items) {
    for (const [k, c] of shared) {
      squares[k]! += c ** 2
      holders[k]! += 1
    }
  }
  return items.map((item) => ({
    ...item,
    shared: item.shared.map(([k, c]) => [k, Math.sign(c) * Math.sqrt(squares[k]! / holders[k]!)]),
  }))
}

/**
 * Weights V⁻¹1 / 1ᵀV⁻¹1 and chi² for V = D + C Cᵀ, D diagonal: by the Woodbury identity only a
 * system of as many equations as there are causes is solved.
 */
export function solve(
  items: readonly Item[],
  causes: number,
  tau2: number,
): { weights: Float64Array; chiSquared: number } {
  const gram = Array.from({ length: causes }, (_, k) => {
    const row = new Float64Array(causes)
    row[k] = 1
    return row
  })
  const ones = new Float64Array(causes)
  const values = new Float64Array(causes)
  // Centred on the first reading: kelvins squared lose digits that the scatter needs.
  const origin = items[0]?.temperatureK ?? 0
  for (const { temperatureK, ownK2, shared } of items) {
    const d = 1 / (ownK2 + tau2)
    for (const [k, c] of shared) {
      ones[k]! += c * d
      values[k]! += c * d * (temperatureK - origin)
      for (const [l, e] of shared) gram[k]![l]! += c * d * e
    }
  }
  const factor = cholesky(gram)
  const forOnes = solveCholesky(factor, ones)
  const forValues = solveCholesky(factor, values)
  let sum = 0
  let sumValues = 0
  const raw = new Float64Array(items.length)
  items.forEach(({ temperatureK, ownK2, shared }, i) => {
    const d = 1 / (ownK2 + tau2)
    let one = 1
    for (const [k, c] of shared) one -= c * forOnes[k]!
    raw[i] = d * one
    sum += raw[i]!
    sumValues += raw[i]! * (temperatureK - origin)
  })
  const mean = sumValues / sum
  let chiSquared = 0
  for (const { temperatureK, ownK2, shared } of items) {
    const d = 1 / (ownK2 + tau2)
    const residual = temperatureK - origin - mean
    let inner = residual
    for (const [k, c] of shared) inner -= c * (forValues[k]! - mean * forOnes[k]!)
    chiSquared += residual * d * inner
  }
  return { weights: raw.map((w) => w / sum), chiSquared: Math.max(chiSquared, 0) }
}

/** tau² at which chi² equals its degrees of freedom; chi² falls steadily with it. */
function excessVariance(
  chiSquared: (tau2: number) => number,
  freedom: number,
  items: readonly Item[],
): number {
  let low = 0
  let high = items.reduce(
    (most, { temperatureK }) => Math.max(most, (temperatureK - items[0]!.temperatureK) ** 2),
    1,
  )
  while (chiSquared(high) > freedom) high *= 2
  for (let i = 0; i < 60 && high - low > 1e-9 * high; i++) {
    const middle = (low + high) / 2
    if (chiSquared(middle) > freedom) low = middle
    else high = middle
  }
  return (low + high) / 2
}

function normalised(weights: readonly number[]): Float64Array {
  const sum = weights.reduce((a, b) => a + b, 0)
  return Float64Array.from(weights, (w) => w / sum)
}
