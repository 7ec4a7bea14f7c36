import { useSignalEffect } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { HeatView } from '../../colour/heat-view.ts'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { showTemperature, temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { UnitPicker } from '../../ui/unit-picker.tsx'
import {
  CHART_CAUTION,
  COMPUTED,
  MARK_WORDS,
  ROOMS,
  type RoomId,
  VIEW_WORDS,
} from '../../ui/words/chart.ts'
import { useCamera } from '../live/use-camera.ts'
import { useServices } from '../services.ts'
import './chart.css'
import { createChartModel } from './chart-model.ts'
import { ChartPicture } from './chart-picture.tsx'
import { ChartTable } from './chart-table.tsx'
import { conditionsOf, KeepChart } from './keep-chart.tsx'
import { createLiveBeside } from './live-beside.ts'
import { LookSource } from './look-source.tsx'
import { type MarkKind, marksOf } from './marks.ts'
import { createMatchModel } from './match-model.ts'
import { MatchStart } from './match-start.tsx'
import { MatchView } from './match-view.tsx'
import { Readout } from './readout.tsx'
import { WHOLE, WORKSHOP, zoomSpan } from './scale.ts'

const VIEWS: readonly HeatView['kind'][] = ['dark-shop', 'hue', 'camera']
const MARK_KINDS = Object.keys(MARK_WORDS) as MarkKind[]

/** The computed chart of heat colours, and the match by eye. */
export function ChartScreen() {
  const { log, kit, now } = useServices()
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
    model.span.value = zoomSpan(model.span.value, factor, model.cursorK.value)
  }
  const beside = match.beside.value
  if (beside) return <MatchView model={model} match={match} beside={beside} camera={camera} />
  const marks = marksOf(model.marks.value, model.materialIds.value)
  return (
    <main class="screen chart">
      <header>
        <h1>Chart</h1>
        <label class="beside no-print">
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
      </header>
      <div class="chart-columns">
        <div class="stack">
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
          <div class="column-names" aria-hidden="true">
            <span class="unit">{UNIT_SYMBOLS[temperatureUnit.value]}</span>
            <span />
            {marks.columnNames.map((name) => (
              <span key={name}>{name}</span>
            ))}
          </div>
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
          <p class="small soft">{VIEW_WORDS[model.viewKind.value].line}</p>
          {model.viewKind.value === 'camera' && <LookSource model={model} />}
        </div>
        <div class="stack">
          <Readout model={model} />
          <MatchStart match={match} camera={camera} />
          <details class="no-print">
            <summary>Surface, room light, steps</summary>
            <div class="inside">
              <MaterialPicker
                materialId={model.materialId.value}
                onMaterial={(id) => {
                  model.materialId.value = id
                }}
              />
              <label class="field">
                <span>Room light on the piece</span>
                <select
                  value={model.room.value}
                  onChange={(event) => {
                    model.room.value = event.currentTarget.value as RoomId
                  }}
                >
                  {ROOMS.map(({ id, name, lux }) => (
                    <option key={id} value={id}>
                      {lux > 0 ? `${name} (${lux} lx)` : name}
                    </option>
                  ))}
                </select>
              </label>
              <p class="small soft">
                Room light hides the low reds. With this light the glow is seen from about{' '}
                {showTemperature(model.visibleFromK.value)} (Draper’s first glow, plus 2 % contrast
                against the lit surface).
              </p>
              <label class="field">
                <span>Steps</span>
                <select
                  value={model.step.value}
                  onChange={(event) => {
                    model.step.value = Number(event.currentTarget.value)
                  }}
                >
                  <option value={0}>Continuous</option>
                  <option value={25}>25 degrees</option>
                  <option value={50}>50 degrees</option>
                  <option value={100}>100 degrees</option>
                </select>
              </label>
              <UnitPicker />
            </div>
          </details>
          <ChartTable model={model} />
          <KeepChart model={model} />
          <p class="small soft">
            <span class="print-only whole-line">
              {now().toISOString().slice(0, 10)}. {conditionsOf(model)}{' '}
            </span>
            {COMPUTED} {CHART_CAUTION}
          </p>
        </div>
      </div>
    </main>
  )
}
