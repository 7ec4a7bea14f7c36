import { showPlusMinus } from './temperature.ts'
import { termName } from './words/budget-terms.ts'

/** Contributions as bars, largest first; each is shown with k = 2 like the result itself. */
export function BudgetBars({
  budget,
}: {
  budget: readonly { readonly term: string; readonly standardUncertaintyK: number }[]
}) {
  const largest = Math.max(...budget.map((entry) => entry.standardUncertaintyK), 1e-9)
  const seen = budget.filter((entry) => entry.standardUncertaintyK > 0.005 * largest)
  return (
    <ol class="bars">
      {seen.map((entry, index) => (
        <li key={entry.term} class={index === 0 ? 'first' : ''}>
          <span>{termName(entry.term)}</span>
          <span class="figure">{showPlusMinus(entry.standardUncertaintyK)}</span>
          <div class="track">
            <div
              class="fill"
              style={{ width: `${(100 * entry.standardUncertaintyK) / largest}%` }}
            />
          </div>
        </li>
      ))}
    </ol>
  )
}
