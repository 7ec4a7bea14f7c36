import { firstResult } from '../../../log/schema/reading-schema.ts'
import type { Reading, Result } from '../../../log/schema/types.ts'
import { showFigure, showTemperature } from '../../../ui/temperature.ts'
import { showLocalMoment } from '../../../ui/words/dates.ts'
import { formerWords, movedWords } from '../../../ui/words/log-entry.ts'

/**
 * Nothing is overwritten: former words, and every result with the method that gave it.
 *
 * @param again what computing it once more comes to; null where that is offered elsewhere
 * @param onLook the person wants to know how it was computed
 */
export function EntryHistory({
  reading,
  again,
  onLook,
}: {
  reading: Reading
  again: string | null
  onLook: () => void
}) {
  const { history, recomputations } = reading
  /** The result that a recomputation took the place of. */
  const before = (i: number) => recomputations[i - 1]?.result ?? firstResult(reading)
  return (
    <>
      {history.length > 0 && (
        <details>
          <summary>Former values ({history.length})</summary>
          <ol class="inside plain-list">
            {[...history].reverse().map(({ at, values }, i) => (
              <li key={`${at} ${i}`}>
                <p class="small soft">Until {showLocalMoment(at)}</p>
                {formerWords(values).map((line) => (
                  <p key={line}>{line}</p>
                ))}
              </li>
            ))}
          </ol>
        </details>
      )}
      <details
        onToggle={(event) => {
          if (event.currentTarget.open) onLook()
        }}
      >
        <summary>How it was computed</summary>
        <ol class="inside plain-list">
          {[...recomputations].reverse().map(({ at, reason, result }, i) => (
            <li key={`${at} ${i}`}>
              <ResultLine result={result} />
              <p class="small soft">
                {showLocalMoment(at)}, {reason}.{' '}
                {movedWords(before(recomputations.length - 1 - i), result)}
              </p>
            </li>
          ))}
          <li>
            <ResultLine result={firstResult(reading)} />
            <p class="small soft">{showLocalMoment(reading.savedAt)}, as saved</p>
          </li>
          {again && <li class="small soft no-print">{again}</li>}
        </ol>
      </details>
    </>
  )
}

export function ResultLine({ result }: { result: Result }) {
  const figure =
    result.kind === 'temperature'
      ? showFigure(result.temperatureK, result.expandedUncertaintyK)
      : result.kind === 'upper bound'
        ? `below ${showTemperature(result.temperatureK)}`
        : 'no figure'
  return (
    <p>
      <strong class="figure">{figure}</strong>{' '}
      <span class="small soft">method: {result.methodVersion}</span>
    </p>
  )
}
