import { useState } from 'preact/hooks'
import css from './plot.module.css'
import type { PlotAxis, PlotData, PlotSeries } from './plot-types.ts'
import { valueText } from './ticks.ts'

/** More rows than this are not read by anybody; evenly chosen ones stand for the rest. */
const MAX_ROWS = 100

/** The numbers behind a plot, one table a series, made when they are asked for. */
export function PlotTable({ data }: { data: PlotData }) {
  const [open, setOpen] = useState(false)
  return (
    <details class={css.plotTable} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Numbers</summary>
      {open &&
        data.series.map((series) => <SeriesTable data={data} series={series} key={series.label} />)}
    </details>
  )
}

function SeriesTable({ data, series }: { data: PlotData; series: PlotSeries }) {
  const count = series.x.length
  const rows = Math.min(count, MAX_ROWS)
  const chosen = Array.from({ length: rows }, (_, k) =>
    rows < 2 ? k : Math.round((k * (count - 1)) / (rows - 1)),
  )
  const { band } = series
  return (
    // A region that scrolls must be reachable by keyboard.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: see above
    <section class={css.scroll} tabIndex={0} aria-label={series.label}>
      <table>
        <caption>
          {series.label}
          {rows < count && ` (${rows} of ${count} values)`}
        </caption>
        <thead>
          <tr>
            <th scope="col">{data.x.label}</th>
            <th scope="col">{data.y.label}</th>
            {band && <th scope="col">from</th>}
            {band && <th scope="col">to</th>}
          </tr>
        </thead>
        <tbody>
          {chosen.map((i) => (
            <tr key={i}>
              <td>{shown(data.x, series.x[i])}</td>
              <td>{shown(data.y, series.y[i])}</td>
              {band && <td>{shown(data.y, band.low[i])}</td>}
              {band && <td>{shown(data.y, band.high[i])}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function shown(axis: PlotAxis, value: number | null | undefined): string {
  if (value === null || value === undefined) return '–'
  return valueText(axis, value)
}
