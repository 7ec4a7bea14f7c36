import { consensus, type EstimateKind } from '../../estimate/consensus.ts'
import { currentResult } from '../../log/schema/reading-schema.ts'
import type { BudgetEntry, Reading } from '../../log/schema/types.ts'
import {
  estimateTerms,
  singleEstimate,
  uncertaintyOf,
} from '../../session/check/single-estimate.ts'
import { Notices } from '../../ui/notices.tsx'
import { showFigure } from '../../ui/temperature.ts'
import type { Notice } from '../../ui/words/estimate.ts'
import { ESTIMATE_NAMES, type VerdictWords, verdictWords } from '../../ui/words/verdict.ts'

const COVERAGE = 2

/** The verdict, the likeliest reason, what to measure next. */
export function VerdictPart({
  words,
  more = [],
}: {
  words: VerdictWords
  more?: readonly Notice[]
}) {
  return (
    <>
      <Notices notices={[words.notice, ...more]} />
      {words.likeliest.length > 0 && (
        <section>
          <h2>Likeliest reason</h2>
          <ul>
            {words.likeliest.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </section>
      )}
      {words.next && <p>Next: {words.next}</p>}
    </>
  )
}

/** An estimate that was just made against the reading that is asked about: can both be true? */
export function AgainstReading({
  asked,
  kind,
  temperatureK,
  terms,
}: {
  asked: Reading | null
  kind: EstimateKind
  temperatureK: number
  terms: readonly BudgetEntry[]
}) {
  const reading = asked && singleEstimate(asked)
  if (!reading || reading.kind === kind) return null
  const both = [reading, { id: 'new', kind, temperatureK, terms: estimateTerms('new', terms) }]
  const found = consensus(both)
  if (!found.ok) return null
  const result = currentResult(asked)
  const stated = result.kind === 'temperature' ? result.expandedUncertaintyK : 0
  const named = both.map((one, i) => ({
    ...one,
    expandedUncertaintyK: i === 0 ? stated : COVERAGE * uncertaintyOf(one.terms),
  }))
  const { value } = found
  return (
    <>
      <VerdictPart words={verdictWords(found, named)} />
      {value && (
        <p class="soft">
          {ESTIMATE_NAMES[reading.kind]} says {showFigure(reading.temperatureK, stated)}. Together{' '}
          {showFigure(value.temperatureK, COVERAGE * value.standardUncertaintyK)}.
        </p>
      )}
    </>
  )
}
