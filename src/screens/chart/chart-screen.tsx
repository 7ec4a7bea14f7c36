import { useSignalEffect } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { HeatView } from '../../colour/heat-view.ts'
import type { MarkKind } from '../../session/chart/chart-model.ts'
import { type ChartModel, createChartModel } from '../../session/chart/chart-model.ts'
import { createMatchModel } from '../../session/chart/match-model.ts'
import { WHOLE, WORKSHOP, zoomSpan } from '../../session/chart/scale.ts'
import { createLiveBeside } from '../../session/live/live-beside.ts'
import { useCamera } from '../../session/live/use-camera.ts'
import { useServices } from '../../session/services.ts'
import { temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { useLayer } from '../../ui/use-layer.ts'
import { CHART_CAUTION, COMPUTED, MARK_WORDS, VIEW_WORDS } from '../../ui/words/chart.ts'
import css from './chart.module.css'
import { ChartPicture } from './chart-picture.tsx'
import { ChartSettings } from './chart-settings.tsx'
import { ChartTable } from './chart-table.tsx'
import { LookSource } from './look-source.tsx'
import { marksOf } from './marks.ts'
import { MatchStart } from './match-start.tsx'
import { MatchView } from './match-view.tsx'
import { Readout } from './readout.tsx'
import { KeepChart, PaperLine } from './save-chart.tsx'

const VIEWS: readonly HeatView['kind'][] = ['dark-shop', 'hue', 'camera']
const MARK_KINDS = Object.keys(MARK_WORDS) as MarkKind[]

/** The computed chart of heat colours, and the match by eye. */
export function ChartScreen() {
  const { log, kit } = useServices()
  const model = useMemo(() => createChartModel(kit), [kit])
  const match = useMemo(() => createMatchModel(model), [model])
  const camera = useCamera((opened) => createLiveBeside(opened, model.looks))
  useEffect(
    () => () => {
      match.dispose()
      model.dispose()
    },
    [match, model],
  )
  useSignalEffect(() => {
    // A camera that was let go while the page was hidden comes back into the match that goes on.
    const live = camera.use.value
    if (!live) return
    if (match.beside.peek()?.kind === 'live') match.resume(live)
    else match.begin({ kind: 'live', live })
  })
  useEffect(() => {
    // Without a log the limits of all materials are shown.
    log
      .then((opened) => opened.vocabulary())
      .then(
        ({ materials }) => {
          model.materialIds.value = materials.map(({ text }) => text)
        },
        () => undefined,
      )
  }, [log, model])
  const zoom = (factor: number) => {
    model.span.value = zoomSpan(model.span.peek(), factor, model.cursorK.peek())
  }
  const beside = match.beside.value
  useLayer(beside !== null, () => {
    match.close()
    camera.close()
  })
  if (beside) return <MatchView model={model} match={match} beside={beside} camera={camera} />
  return (
    <main class={`screen ${css.chart}`}>
      <header>
        <h1>Chart</h1>
        <MarkPicker model={model} />
      </header>
      <div class={css.chartColumns}>
        <div class="stack">
          <ViewPicker model={model} />
          <ColumnNames model={model} />
          <ChartPicture model={model} />
          <div class="row tight no-print">
            <button type="button" class="grow" onClick={() => zoom(1.5)} aria-label="Closer">
              +
            </button>
            <button type="button" class="grow" onClick={() => zoom(1 / 1.5)} aria-label="Wider">
              −
            </button>
            <button
              type="button"
              class="grow"
              onClick={() => {
                model.span.value = WORKSHOP
              }}
            >
              Shop
            </button>
            <button
              type="button"
              class="grow"
              onClick={() => {
                model.span.value = WHOLE
              }}
            >
              Lamps
            </button>
          </div>
          <ViewLine model={model} />
        </div>
        <div class="stack">
          <Readout model={model} />
          <MatchStart model={model} match={match} camera={camera} />
          <ChartSettings model={model} />
          <ChartTable model={model} />
          <KeepChart model={model} />
          <p class="small soft">
            <PaperLine model={model} />
            {COMPUTED} {CHART_CAUTION}
          </p>
        </div>
      </div>
    </main>
  )
}

function MarkPicker({ model }: { model: ChartModel }) {
  return (
    <label class={`${css.beside} no-print`}>
      <span class="unseen">Beside the colours</span>
      <select
        value={model.marks.value}
        onChange={(event) => {
          model.marks.value = event.currentTarget.value as MarkKind
        }}
      >
        {MARK_KINDS.map((kind) => (
          <option key={kind} value={kind}>
            {MARK_WORDS[kind]}
          </option>
        ))}
      </select>
    </label>
  )
}

function ViewPicker({ model }: { model: ChartModel }) {
  return (
    <div class="segments no-print">
      {VIEWS.map((kind) => (
        <button
          key={kind}
          type="button"
          aria-pressed={model.viewKind.value === kind}
          onClick={() => {
            model.viewKind.value = kind
          }}
        >
          {VIEW_WORDS[kind].name}
        </button>
      ))}
    </div>
  )
}

function ColumnNames({ model }: { model: ChartModel }) {
  return (
    <div class={css.columnNames} aria-hidden="true">
      <span class="unit">{UNIT_SYMBOLS[temperatureUnit.value]}</span>
      <span />
      {marksOf(model.marks.value, model.materialIds.value).columnNames.map((name) => (
        <span key={name}>{name}</span>
      ))}
    </div>
  )
}

function ViewLine({ model }: { model: ChartModel }) {
  const kind = model.viewKind.value
  return (
    <>
      <p class="small soft">{VIEW_WORDS[kind].line}</p>
      {kind === 'camera' && <LookSource model={model} />}
    </>
  )
}
