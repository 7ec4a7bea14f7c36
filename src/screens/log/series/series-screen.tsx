import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { Summary } from '../../../log/schema/types.ts'
import type { SeriesAxis } from '../../../log/statistics/series.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { createSeriesModel, type SeriesSpread } from '../../../session/log/series-model.ts'
import { useServices } from '../../../session/services.ts'
import { Notices } from '../../../ui/notices.tsx'
import { Plot } from '../../../ui/plots/plot.tsx'
import { go } from '../../../ui/router.ts'
import { temperatureUnit } from '../../../ui/temperature.ts'
import { noticeOfLogFailure } from '../../../ui/words/log-errors.ts'
import { AXIS_NAMES } from '../../../ui/words/series.ts'
import { LogRow } from '../list/log-row.tsx'
import { StatisticsDialog } from '../list/statistics-dialog.tsx'
import css from '../log.module.css'
import { restOfPlace } from '../log-place.ts'
import { PrintFoot } from '../print-foot.tsx'
import { printPage } from '../print-page.ts'
import { SeriesPaper } from './series-paper.tsx'
import { axesOf, seriesPlotData } from './series-plot-data.ts'

/** Rows under the plot; the list has the rest. */
const ROWS_MOST = 20

/** One object's readings over time, or against what was fed to it. */
export function SeriesScreen({ object: asked, list }: { object: string; list: ListModel }) {
  const { log } = useServices()
  const objects = list.vocabulary.value?.objects ?? []
  // Without a choice, what has been read most.
  const object = asked || (objects[0]?.text ?? '')
  const model = useMemo(() => createSeriesModel(log, object), [log, object])
  useEffect(() => () => model.dispose(), [model])
  useEffect(() => list.readVocabulary(), [list, list.vocabulary.value])
  const failure = noticeOfLogFailure(model.failure.value)
  const summaries = model.summaries.value
  const known = object === '' || objects.some(({ text }) => text === object)
  return (
    <main class={`screen ${css.log}`}>
      <header>
        <a class="button no-print" href="/log">
          Back
        </a>
        <h1>Series</h1>
        {objects.length > 0 || object !== '' ? (
          <label class={`${css.pick} no-print`}>
            <span class="unseen">Object</span>
            <select
              value={object}
              onChange={(event) =>
                go('log', restOfPlace({ kind: 'series', object: event.currentTarget.value }))
              }
            >
              {!known && <option value={object}>{object}</option>}
              {objects.map(({ text, count }) => (
                <option key={text} value={text}>
                  {text} ({count})
                </option>
              ))}
            </select>
          </label>
        ) : null}
      </header>
      {failure && <Notices notices={[failure]} />}
      {list.vocabulary.value && objects.length === 0 && (
        <p class="card">No reading has a name yet. Name what you read, and its readings line up.</p>
      )}
      {object !== '' && summaries && (
        <Series
          object={object}
          summaries={summaries}
          spread={model.spread.value}
          list={list}
          key={object}
        />
      )}
    </main>
  )
}

function Series({
  object,
  summaries,
  spread,
  list,
}: {
  object: string
  summaries: readonly Summary[]
  spread: SeriesSpread | null
  list: ListModel
}) {
  const { now } = useServices()
  const wanted = useSignal<SeriesAxis>('time')
  const averaging = useSignal(false)
  const axes = axesOf(summaries)
  const axis = axes.includes(wanted.value) ? wanted.value : 'time'
  const unit = temperatureUnit.value
  const data = useMemo(
    () => seriesPlotData(summaries, axis, object, unit, spread),
    [summaries, axis, object, unit, spread],
  )
  const date = now().toISOString().slice(0, 10)
  const more = () => {
    list.find({ object })
    list.place.value = null
    go('log')
  }
  return (
    <>
      {axes.length > 1 && (
        <div class="segments no-print">
          {axes.map((one) => (
            <button
              key={one}
              type="button"
              aria-pressed={axis === one}
              onClick={() => {
                wanted.value = one
              }}
            >
              {AXIS_NAMES[one]}
            </button>
          ))}
        </div>
      )}
      {data ? (
        <div class="no-print">
          <Plot data={data} fileName="series" note={date} />
        </div>
      ) : (
        <p class="card">No reading of it has a temperature.</p>
      )}
      <div class="row tight no-print">
        <button
          type="button"
          class="grow"
          disabled={summaries.length === 0}
          onClick={() => {
            averaging.value = true
          }}
        >
          Mean
        </button>
        <button type="button" class="grow" onClick={printPage}>
          Print
        </button>
        <button type="button" class="grow" onClick={more}>
          In the log
        </button>
      </div>
      <ul class={`plain-list ${css.rows} no-print`}>
        {summaries.slice(0, ROWS_MOST).map((summary) => (
          <li key={summary.id}>
            <LogRow summary={summary} chosen={null} onToggle={() => undefined} />
          </li>
        ))}
      </ul>
      <SeriesPaper summaries={summaries} data={data} date={date} />
      <PrintFoot />
      {averaging.value && (
        <StatisticsDialog
          ids={summaries.map(({ id }) => id)}
          onClose={() => {
            averaging.value = false
          }}
        />
      )}
    </>
  )
}
