import { BudgetBars } from '../../ui/budget-bars.tsx'

/** A budget as the log keeps it, as bars: terms of one name together, largest first. */
export function StoredBudget({
  budget,
}: {
  budget: readonly { readonly term: string; readonly contributionK: number }[]
}) {
  return <BudgetBars budget={joined(budget)} />
}

/** Squares of one name add up (GUM, JCGM 100:2008, equation 10). */
function joined(budget: readonly { readonly term: string; readonly contributionK: number }[]) {
  const variances = new Map<string, number>()
  for (const { term, contributionK } of budget) {
    variances.set(term, (variances.get(term) ?? 0) + contributionK ** 2)
  }
  return [...variances]
    .map(([term, variance]) => ({ term, standardUncertaintyK: Math.sqrt(variance) }))
    .sort((a, b) => b.standardUncertaintyK - a.standardUncertaintyK)
}
