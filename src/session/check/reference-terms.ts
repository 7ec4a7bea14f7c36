import { currentResult } from '../../log/schema/reading-schema.ts'
import type { BudgetEntry, Reading } from '../../log/schema/types.ts'

/**
 * What a result owes to the reading it was referred to: the reference's own terms, each with its
 * cause, scaled to what they move here. So the two err together where they are later combined.
 *
 * @param contributionK what the reference's temperature contributes here, standard uncertainty, K
 */
export function referenceTerms(reference: Reading, contributionK: number): BudgetEntry[] {
  const result = currentResult(reference)
  if (result.kind !== 'temperature' || !(result.standardUncertaintyK > 0)) return []
  const scale = contributionK / result.standardUncertaintyK
  if (result.budget.length === 0) {
    return [{ term: 'own', contributionK, sharedBy: reference.id }]
  }
  return result.budget.map(({ term, contributionK: theirs, sharedBy }) => ({
    term,
    contributionK: theirs * scale,
    // A term of the reference's own is shared with that reading alone: see single-estimate.ts.
    sharedBy: sharedBy ?? reference.id,
  }))
}
