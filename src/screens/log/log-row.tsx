import type { Summary } from '../../log/types.ts'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { showDay, showTime } from '../../ui/words/dates.ts'
import { METHOD_NAMES } from '../../ui/words/methods.ts'

/** One line of the log: when, how hot, what, how. */
export function LogRow({ summary }: { summary: Summary }) {
  const { swatch } = summary
  return (
    <a class="log-row" href={`/log/${summary.id}`}>
      <span
        class="swatch"
        aria-hidden="true"
        style={
          swatch
            ? { background: `color(display-p3 ${swatch[0]} ${swatch[1]} ${swatch[2]})` }
            : undefined
        }
      />
      <span class="what">
        <strong>
          <Value summary={summary} />
        </strong>
        <span class="object">{summary.object || 'no name'}</span>
      </span>
      <span class="when soft small">
        <span>{showDay(summary.takenAt)}</span>
        <span>{showTime(summary.takenAt)}</span>
        <span class="how">
          {summary.simulated ? <span class="tag">Simulated</span> : METHOD_NAMES[summary.method]}
        </span>
      </span>
    </a>
  )
}

function Value({ summary }: { summary: Summary }) {
  const { kind, temperatureK, expandedUncertaintyK } = summary
  if (summary.damaged) return <>damaged, open to rescue</>
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
