import type { SelectionMean } from '../../../session/log/selection-mean.ts'
import { TemperatureFigure } from '../../../ui/quantity.tsx'
import { showDifference, showPlusMinus, showTemperature } from '../../../ui/temperature.ts'
import { leftOutSentence, readingsWord, scatterSentence } from '../../../ui/words/log.ts'
import { StoredBudget } from '../stored-budget.tsx'

/** The mean of a selection: the figure, what more readings would still shrink, and what not. */
export function StatisticsFacts({ mean }: { mean: SelectionMean }) {
  const { statistics: s, leftOut } = mean
  const without = leftOutSentence(leftOut)
  if (!s) {
    return (
      <>
        <h2>No mean</h2>
        <p>None of them has a temperature. {without}</p>
      </>
    )
  }
  const common = s.causes.map(({ term, contributionK }) => ({ term, contributionK }))
  return (
    <>
      <h2>Mean of {readingsWord(s.count)}</h2>
      <TemperatureFigure
        temperatureK={s.weightedMeanK}
        expandedUncertaintyK={2 * s.standardUncertaintyK}
      />
      {without && <p class="small soft">{without}</p>}
      <dl class="facts">
        <dt>Coldest, hottest</dt>
        <dd>
          {showTemperature(s.coldestK)}, {showTemperature(s.hottestK)}
        </dd>
        <dt>Plain mean</dt>
        <dd>{showTemperature(s.meanK)}</dd>
        {s.standardDeviationK !== null && (
          <>
            <dt>Standard deviation</dt>
            <dd>{showDifference(s.standardDeviationK)}</dd>
          </>
        )}
        <dt>Shared part of ±</dt>
        <dd>{showPlusMinus(s.commonK)}</dd>
        <dt>Own part of ±</dt>
        <dd>{showPlusMinus(s.independentK)}</dd>
      </dl>
      <p class="small">{scatterSentence(s)}</p>
      {common.length > 0 && (
        <details>
          <summary>What they share</summary>
          <div class="inside">
            <StoredBudget budget={common} />
            <p class="small soft">
              These err for all of them together: more readings do not make this part smaller, a
              known heat does.
            </p>
          </div>
        </details>
      )}
      {s.partlyUnknown && (
        <p class="small soft">
          Some of them do not say what their ± is made of; that part is taken as shared.
        </p>
      )}
    </>
  )
}
