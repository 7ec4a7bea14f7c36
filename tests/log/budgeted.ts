import type { BudgetEntry } from '../../src/log/schema/reading-schema.ts'
import type { Budgeted } from '../../src/log/statistics/shared-terms.ts'

export type Terms = Record<string, number>

/** A temperature from its own uncertainty and its common causes. */
export function value(temperatureK: number, own: number, shared: Terms = {}): Budgeted {
  const budget: BudgetEntry[] = [{ term: 'own', contributionK: own, sharedBy: null }]
  for (const [cause, contributionK] of Object.entries(shared)) {
    budget.push({ term: 'common', contributionK, sharedBy: cause })
  }
  const standardUncertaintyK = Math.hypot(...budget.map((entry) => entry.contributionK))
  return { temperatureK, standardUncertaintyK, budget }
}
