import type { Result } from '../schema/reading-schema.ts'
import { type Cause, causeOf, splitBudget } from './shared-terms.ts'

export interface Comparison {
  /** First less second, K; null when one of them has no temperature. */
  readonly differenceK: number | null
  /** Standard uncertainty of the difference, shared causes cancelled as far as they do, K. */
  readonly standardUncertaintyK: number | null
  /** What it would be if the two had nothing in common, K. */
  readonly ifIndependentK: number | null
  /** Correlation coefficient of the two temperatures by their shared causes. */
  readonly correlation: number | null
  /** Causes that both share, the weightiest first. */
  readonly sharedCauses: readonly Cause[]
  /** Part of either uncertainty has no budget and is taken as independent. */
  readonly partlyUnknown: boolean
  readonly verdict:
    | 'differ'
    /** Within what the uncertainty allows (k = 2): no difference is shown. */
    | 'no difference shown'
    /** Only bounds, or nothing, to compare. */
    | 'undecided'
}

/** Coverage factor for about 95 %. */
const K = 2

/**
 * Do two readings differ more than their uncertainty allows?
 *
 * u²(d) = sum over causes of (c1 - c2)² + own terms of both: GUM (JCGM 100:2008) equation 13 for
 * d = T1 - T2 with causes fully correlated within themselves. An error of one camera moves both
 * readings alike and cancels, so that two readings of one phone tell far smaller differences than
 * their intervals suggest.
 */
export function compareResults(a: Result, b: Result): Comparison {
  if (a.kind !== 'temperature' || b.kind !== 'temperature') {
    return { ...NOTHING, verdict: boundsVerdict(a, b) }
  }
  const one = splitBudget(a)
  const two = splitBudget(b)
  let variance = one.ownK2 + two.ownK2 + one.unknownK2 + two.unknownK2
  let covariance = 0
  const weights = new Map<string, number>()
  for (const cause of new Set([...one.shared.keys(), ...two.shared.keys()])) {
    const c1 = one.shared.get(cause) ?? 0
    const c2 = two.shared.get(cause) ?? 0
    variance += (c1 - c2) ** 2
    covariance += c1 * c2
    if (c1 !== 0 && c2 !== 0) weights.set(cause, Math.abs(c1 * c2))
  }
  const differenceK = a.temperatureK - b.temperatureK
  const standardUncertaintyK = Math.sqrt(variance)
  const uu = a.standardUncertaintyK * b.standardUncertaintyK
  return {
    differenceK,
    standardUncertaintyK,
    ifIndependentK: Math.hypot(a.standardUncertaintyK, b.standardUncertaintyK),
    correlation: uu > 0 ? covariance / uu : 0,
    sharedCauses: [...weights].sort((x, y) => y[1] - x[1]).map(([cause]) => causeOf(cause)),
    partlyUnknown: one.unknownK2 > 0 || two.unknownK2 > 0,
    verdict: verdictOf(differenceK, standardUncertaintyK),
  }
}

/** @param standardUncertaintyK of the difference */
export function verdictOf(
  differenceK: number,
  standardUncertaintyK: number,
): 'differ' | 'no difference shown' {
  return Math.abs(differenceK) > K * standardUncertaintyK ? 'differ' : 'no difference shown'
}

const NOTHING = {
  differenceK: null,
  standardUncertaintyK: null,
  ifIndependentK: null,
  correlation: null,
  sharedCauses: [],
  partlyUnknown: false,
} as const

/** A bound tells a difference only when the other interval lies wholly above it. */
function boundsVerdict(a: Result, b: Result): Comparison['verdict'] {
  const above = (x: Result, y: Result) =>
    x.kind === 'temperature' && y.kind === 'upper bound' && x.interval95K[0] > y.temperatureK
  return above(a, b) || above(b, a) ? 'differ' : 'undecided'
}
