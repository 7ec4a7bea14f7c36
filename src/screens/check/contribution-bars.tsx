import { showPlusMinus } from '../../ui/temperature.ts'

/** What a ± is made of, largest first, as bars; k = 2 like the figure. */
export function ContributionBars({
  contributions,
}: {
  contributions: readonly { readonly name: string; readonly standardUncertaintyK: number }[]
}) {
  const sorted = [...contributions].sort(
    (a, b) => Math.abs(b.standardUncertaintyK) - Math.abs(a.standardUncertaintyK),
  )
  const largest = Math.abs(sorted[0]?.standardUncertaintyK ?? 0) || 1
  const seen = sorted.filter((entry) => Math.abs(entry.standardUncertaintyK) > 0.005 * largest)
  return (
    <details>
      <summary>What the ± is made of</summary>
      <ol class="bars inside">
        {seen.map(({ name, standardUncertaintyK }, i) => (
          <li key={name} class={i === 0 ? 'first' : ''}>
            <span>{name}</span>
            <span class="figure">{showPlusMinus(Math.abs(standardUncertaintyK))}</span>
            <div class="track">
              <div
                class="fill"
                style={{ width: `${(100 * Math.abs(standardUncertaintyK)) / largest}%` }}
              />
            </div>
          </li>
        ))}
      </ol>
    </details>
  )
}
