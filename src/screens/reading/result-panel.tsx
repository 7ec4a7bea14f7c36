import type { GlowEstimate, TemperatureEstimate } from '../../estimate/types.ts'
import { HeatNames } from '../../ui/heat-names.tsx'
import { IntervalLine, TemperatureFigure } from '../../ui/quantity.tsx'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { adviceSentence, NO_NUMBER, TERM_NAMES } from '../../ui/words/estimate.ts'
import { BELOW_RANGE } from '../../ui/words/measurement.ts'

/** What the reading says: the figure, its names, and what it rests on most. */
export function ResultPanel({ estimate }: { estimate: GlowEstimate }) {
  switch (estimate.kind) {
    case 'temperature':
      return <Temperature estimate={estimate} />
    case 'below range':
      return (
        <section class="result stack" aria-live="polite">
          <h2>{BELOW_RANGE.title}</h2>
          <p>{BELOW_RANGE.line(showTemperature(estimate.upperBoundK))}</p>
          <p class="soft">{BELOW_RANGE.todo}</p>
        </section>
      )
    case 'no number': {
      const { title, todo } = NO_NUMBER[estimate.reason]
      return (
        <section class="result stack" aria-live="polite">
          <h2>{title}</h2>
          <p class="soft">{todo}</p>
        </section>
      )
    }
  }
}

function Temperature({ estimate }: { estimate: TemperatureEstimate }) {
  const { temperatureK, expandedUncertaintyK, interval95K, dominant } = estimate
  const advice = adviceSentence(estimate.advice, showPlusMinus, showTemperature)
  return (
    <section class="result stack" aria-live="polite">
      <TemperatureFigure temperatureK={temperatureK} expandedUncertaintyK={expandedUncertaintyK} />
      <IntervalLine temperatureK={temperatureK} interval95K={interval95K} />
      <HeatNames temperatureK={temperatureK} />
      <p>
        Largest part: {TERM_NAMES[dominant].toLowerCase()}. {advice}
      </p>
    </section>
  )
}
