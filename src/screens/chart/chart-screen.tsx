import { signal, useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { HeatView } from '../../colour/heat-view.ts'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { showTemperature, temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { UnitPicker } from '../../ui/unit-picker.tsx'
import { CHART_CAUTION, MARK_WORDS, ROOMS, type RoomId, VIEW_WORDS } from '../../ui/words/chart.ts'
import { useServices } from '../services.ts'
import { typicalCameraLook } from './camera-look.ts'
import './chart.css'
import { createChartModel } from './chart-model.ts'
import { ChartPicture } from './chart-picture.tsx'
import { ChartTable } from './chart-table.tsx'
import { EyeMatchPanel } from './eye-match-panel.tsx'
import { KeepChart } from './keep-chart.tsx'
import { type MarkKind, marksOf } from './marks.ts'
import { ChoosePhotoBeside, PhotoBeside } from './photo-beside.tsx'
import { Readout } from './readout.tsx'
import { WHOLE, WORKSHOP, zoomSpan } from './scale.ts'

const VIEWS: readonly HeatView['kind'][] = ['dark-shop', 'hue', 'camera']
const MARK_KINDS = Object.keys(MARK_WORDS) as MarkKind[]

/** The computed chart of heat colours, and the match by eye. */
export function ChartScreen() {
  const model = useMemo(() => createChartModel(signal(typicalCameraLook())), [])
  const { log } = useServices()
  const photoUrl = useSignal<string | null>(null)
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
          <PhotoBeside url={photoUrl} />
          <ChartPicture model={model} />
          <p class="small soft">{VIEW_WORDS[model.viewKind.value].line}</p>
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
        </div>
        <div class="stack">
          <Readout model={model} />
          <ChoosePhotoBeside url={photoUrl} />
          <EyeMatchPanel model={model} />
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
                  value={model.stepK.value}
                  onChange={(event) => {
                    model.stepK.value = Number(event.currentTarget.value)
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
            Computed: Planck’s law, the CIE 1931 observer, colours that the screen cannot show
            brought in at constant lightness and hue (OKLCh). {CHART_CAUTION}
          </p>
        </div>
      </div>
    </main>
  )
}
