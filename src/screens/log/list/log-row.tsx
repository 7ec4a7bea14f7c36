import type { Summary } from '../../../log/schema/types.ts'
import { isByOlderMethod } from '../../../session/log/older-method.ts'
import { heatColour } from '../../../ui/heat-colour.ts'
import { TemperatureFigure } from '../../../ui/quantity.tsx'
import { showMove, showTemperature } from '../../../ui/temperature.ts'
import { showMoment } from '../../../ui/words/dates.ts'
import { originWord, surfaceName } from '../../../ui/words/log.ts'
import { METHOD_NAMES } from '../../../ui/words/methods.ts'
import { OLDER_WORDS } from '../../../ui/words/older-readings.ts'
import css from '../log.module.css'
import { hrefOfPlace } from '../log-place.ts'

/**
 * One line of the log: how hot, what, when, how. It leads to the reading, or chooses it.
 *
 * @param chosen null while nothing is being chosen
 */
export function LogRow({
  summary,
  chosen,
  onToggle,
}: {
  summary: Summary
  chosen: boolean | null
  onToggle: (id: string) => void
}) {
  if (chosen === null) {
    return (
      <a class={css.logRow} href={hrefOfPlace({ kind: 'entry', id: summary.id })}>
        <Swatch summary={summary} />
        <Line summary={summary} />
      </a>
    )
  }
  return (
    <label class={`${css.logRow} ${chosen ? css.chosen : ''}`}>
      <input type="checkbox" checked={chosen} onChange={() => onToggle(summary.id)} />
      <Line summary={summary} />
    </label>
  )
}

/** The glow's own colour where it was kept, else that of its temperature on the chart. */
function Swatch({ summary: { swatch, temperatureK } }: { summary: Summary }) {
  const background = swatch
    ? `color(display-p3 ${swatch[0]} ${swatch[1]} ${swatch[2]})`
    : temperatureK !== null && heatColour(temperatureK)
  return <span class={css.swatch} aria-hidden="true" style={background ? { background } : {}} />
}

function Line({ summary }: { summary: Summary }) {
  const origin = originWord(summary)
  const beside = [summary.material && surfaceName(summary.material), ...summary.tags]
  return (
    <span class={css.lines}>
      <span class={css.line}>
        <strong>
          <SummaryValue summary={summary} />
        </strong>
        <span class="soft small figure">{showMoment(summary.takenAt)}</span>
      </span>
      {!summary.damaged && (
        <span class={css.line}>
          <span class={css.object}>{summary.object || 'no name'}</span>
          <span class={`${css.more} soft small`}>{beside.filter(Boolean).join(' · ')}</span>
          <Method summary={summary} />
          {origin ? (
            <span class="tag">{origin}</span>
          ) : (
            !isByOlderMethod(summary) && (
              <span class="soft small">{METHOD_NAMES[summary.method]}</span>
            )
          )}
        </span>
      )}
    </span>
  )
}

/** That the figure is an older method's, or by how much computing it again moved it. */
function Method({ summary }: { summary: Summary }) {
  if (isByOlderMethod(summary)) return <span class="tag">{OLDER_WORDS.mark}</span>
  const { movedK } = summary
  if (movedK === null || Math.abs(movedK) < 0.5) return null
  return (
    <span class="soft small">
      {OLDER_WORDS.moved} {showMove(movedK)}
    </span>
  )
}

/** The figure of a line: a temperature with its ±, a bound, or that there is none. */
export function SummaryValue({ summary }: { summary: Summary }) {
  const { kind, temperatureK, expandedUncertaintyK } = summary
  if (summary.damaged) return <>Damaged</>
  if (kind === 'temperature' && temperatureK !== null) {
    return (
      <TemperatureFigure
        size="line"
        temperatureK={temperatureK}
        expandedUncertaintyK={expandedUncertaintyK ?? 0}
      />
    )
  }
  if (kind === 'upper bound' && temperatureK !== null) {
    return <>below {showTemperature(temperatureK)}</>
  }
  return <>no figure</>
}
