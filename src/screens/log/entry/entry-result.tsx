import { currentResult } from '../../../log/schema/reading-schema.ts'
import type { Reading, Result } from '../../../log/schema/types.ts'
import { IntervalLine, TemperatureFigure } from '../../../ui/quantity.tsx'
import { showTemperature } from '../../../ui/temperature.ts'
import { originWord } from '../../../ui/words/log.ts'
import { reasonWords } from '../../../ui/words/log-entry.ts'
import css from '../log.module.css'

/** The result that counts, large. */
export function EntryResult({ reading }: { reading: Reading }) {
  const origin = originWord(reading)
  return (
    <section class={`stack ${css.result}`}>
      {origin && <span class={`tag ${css.ownLine}`}>{origin}</span>}
      <ResultFigure result={currentResult(reading)} />
    </section>
  )
}

export function ResultFigure({ result }: { result: Result }) {
  switch (result.kind) {
    case 'temperature': {
      return (
        <>
          <TemperatureFigure
            temperatureK={result.temperatureK}
            expandedUncertaintyK={result.expandedUncertaintyK}
          />
          <IntervalLine temperatureK={result.temperatureK} interval95K={result.interval95K} />
        </>
      )
    }
    case 'upper bound':
      return (
        <>
          <h2>Below {showTemperature(result.temperatureK)}</h2>
          <p class="soft">Too little green to measure. Not glowing does not mean cold.</p>
        </>
      )
    case 'none':
      return (
        <>
          <h2>No figure</h2>
          <p class="soft">{reasonWords(result.reason)}</p>
        </>
      )
  }
}
