import type { EstimateKind, EstimateTerm, SingleEstimate } from '../../estimate/consensus.ts'
import { currentResult } from '../../log/schema/reading-schema.ts'
import type { BudgetEntry, Method, Reading } from '../../log/schema/types.ts'

/** What a method's reading is as an estimate; null for what is made of other readings. */
const KINDS: Record<Method, EstimateKind | null> = {
  photo: 'camera colour',
  raw: 'camera colour',
  sweep: 'camera colour',
  live: 'camera colour',
  practice: 'camera colour',
  'by eye': 'by eye',
  'by hand': 'known heat',
  spectrum: 'spectrum',
  supply: 'supply',
  brightness: 'brightness',
  combined: null,
  'hot work': null,
}

/**
 * A reading as an estimate. Terms that readings share (one camera, one surface) keep one id, so that
 * the consensus knows that they err together; a term and its cause belong together, since the two
 * errors of one cause need not.
 */
export function singleEstimate(reading: Reading): SingleEstimate | null {
  const result = currentResult(reading)
  const kind = KINDS[reading.method]
  if (result.kind !== 'temperature' || !kind) return null
  return {
    id: reading.id,
    kind,
    temperatureK: result.temperatureK,
    terms:
      result.budget.length === 0
        ? [{ id: `${reading.id} own`, effectK: result.standardUncertaintyK }]
        : estimateTerms(reading.id, result.budget),
  }
}

/** A budget as the consensus knows it: a term of the estimate's own bears its id. */
export const estimateTerms = (id: string, budget: readonly BudgetEntry[]): EstimateTerm[] =>
  budget.map(({ term, contributionK, sharedBy }) => ({
    id: sharedBy === null ? `${id} ${term}` : `${sharedBy} ${term}`,
    effectK: contributionK,
  }))

/** Standard uncertainty, K; terms of one id add before they are squared. */
export function uncertaintyOf(terms: readonly EstimateTerm[]): number {
  const effects = new Map<string, number>()
  for (const { id, effectK } of terms) effects.set(id, (effects.get(id) ?? 0) + effectK)
  return Math.hypot(...effects.values())
}
