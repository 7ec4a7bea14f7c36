import { useMemo } from 'preact/hooks'
import type { Summary } from '../../../log/schema/types.ts'
import { plotSvg } from '../../../ui/plots/plot-svg.ts'
import type { PlotData } from '../../../ui/plots/plot-types.ts'
import { wholePlot } from '../../../ui/plots/view.ts'
import { showMoment } from '../../../ui/words/dates.ts'
import { originWord, surfaceName } from '../../../ui/words/log.ts'
import { METHOD_NAMES } from '../../../ui/words/methods.ts'
import { SummaryValue } from '../list/log-row.tsx'

/** More rows than this are for a table program, not for paper. */
const ROWS_MOST = 500

/** The series for printing: the picture, dark on white, and its readings as a table. */
export function SeriesPaper({
  summaries,
  data,
  date,
}: {
  summaries: readonly Summary[]
  data: PlotData | null
  date: string
}) {
  const picture = useMemo(
    () => data && `data:image/svg+xml,${encodeURIComponent(plotSvg(data, wholePlot(data), date))}`,
    [data, date],
  )
  const shown = summaries.slice(0, ROWS_MOST)
  return (
    <section class="print-only">
      {picture && <img alt="" src={picture} />}
      <table class="numbers-table">
        <thead>
          <tr>
            <th>Taken</th>
            <th>Temperature, 95 %</th>
            <th>V</th>
            <th>W</th>
            <th>Method</th>
            <th>Surface</th>
          </tr>
        </thead>
        <tbody>
          {shown.map((summary) => (
            <tr key={summary.id}>
              <td>{showMoment(summary.takenAt)}</td>
              <td>
                <SummaryValue summary={summary} />
              </td>
              <td>{summary.volts ?? ''}</td>
              <td>{summary.watts ?? ''}</td>
              <td>{originWord(summary) ?? METHOD_NAMES[summary.method]}</td>
              <td>{surfaceName(summary.material)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {shown.length < summaries.length && (
        <p>
          The newest {shown.length} of {summaries.length}; take the rest away as CSV.
        </p>
      )}
    </section>
  )
}
