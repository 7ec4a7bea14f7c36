import { useComputed, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { type BandPlace, bandPlace } from '../../estimate/live/live-line.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { changeCamera } from '../../session/kit/camera-store.ts'
import { exposureRange } from '../../session/live/live-controls.ts'
import { deviceOfLive } from '../../session/live/live-device.ts'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import { livePicture, liveRecord } from '../../session/live/live-record.ts'
import type { Rate } from '../../session/recording/live-recorder.ts'
import { noteGlow } from '../../session/safety/glow-watch.ts'
import { useServices } from '../../session/services.ts'
import { keepAwake } from '../../sources/live/wake-lock.ts'
import { LookPicker } from '../../ui/look-picker.tsx'
import { UNSTATED } from '../../ui/material-picker.tsx'
import { Notices } from '../../ui/notices.tsx'
import { go } from '../../ui/router.ts'
import { askToKeep } from '../../ui/settings.ts'
import { say } from '../../ui/spoken.tsx'
import { SurfaceQuestion, type Waiting } from '../../ui/surface-question.tsx'
import { showDifference, showTemperature } from '../../ui/temperature.ts'
import {
  BALANCE_NOT_LOCKED,
  CANVAS_ONLY,
  CURVE_NOT_KNOWN,
  LIVE_RANGE,
  SCREEN_MAY_SLEEP,
} from '../../ui/words/live.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { CONTEXT_CAUTIONS } from '../../ui/words/safety-statements.data.ts'
import { AloudPanel, useAloud } from './aloud-panel.tsx'
import { BandPanel } from './band-panel.tsx'
import { CardPanel } from './card-panel.tsx'
import { DarkOffer } from './dark-offer.tsx'
import css from './live.module.css'
import { LivePicture } from './live-picture.tsx'
import { LiveReadout } from './live-readout.tsx'
import { LocksPanel } from './locks-panel.tsx'
import { RatePanel, RecordPanel } from './record-panel.tsx'
import { SeriesPanel } from './series-panel.tsx'
import { shutterKeys } from './shutter-keys.ts'
import { TellButtons } from './tell-buttons.tsx'

/** The live reading at work. */
export function LiveBenchView({ model, onStop }: { model: LiveModel; onStop: () => void }) {
  const { kit, log, now } = useServices()
  const { choices, object, band, bandSignals: signals, series } = model.desk
  const materialId = useComputed(() => choices.value.materialId)
  const saving = useSignal(false)
  const failure = useSignal<string | null>(null)
  const mayGoDark = useSignal(false)
  const rate = useSignal<Rate>(5)
  const placing = useSignal<'sight' | 'card'>('sight')
  const waiting = useSignal<Waiting>(null)
  const onSurface = (run: () => void) => {
    if (materialId.peek() === UNSTATED) waiting.value = { run }
    else run()
  }

  const save = async (spoken = true): Promise<boolean> => {
    if (saving.peek()) return false
    saving.value = true
    failure.value = null
    try {
      const whole = await model.wholeEstimate()
      if (!whole) {
        failure.value = 'Nothing to save yet: there is no figure.'
        return false
      }
      const opened = await log
      const labels = { object: object.peek(), series: series.peek()?.id ?? null, now: now() }
      const picture = await livePicture(model).catch(() => undefined)
      const { id } = await opened.add(liveRecord(model, whole, labels), picture)
      const device = deviceOfLive(kit, model.camera.id)
      if (device !== '' && series.peek() === null) {
        await changeCamera(opened, device, { usedAt: now().toISOString() }, now())
      }
      navigator.vibrate?.(30)
      if (spoken) {
        say('Saved.', { label: 'Open', run: () => go('log', id) })
        void askToKeep(opened)
      }
      return true
    } catch (error) {
      failure.value = logSentence(error)
      return false
    } finally {
      saving.value = false
    }
  }

  useEffect(() => {
    const refused = () => {
      mayGoDark.value = true
    }
    const stops = [keepAwake(refused), shutterKeys(() => onSurface(() => void save()))]
    return () => {
      for (const stop of stops) stop()
    }
  }, [])

  // A series saves by itself until it is stopped; leaving the screen stops it. It goes on when a
  // camera that was taken away comes back.
  const running = series.value
  useEffect(() => {
    if (!running) return
    const tick = () =>
      void save(false).then((saved) => {
        const now = series.peek()
        if (saved && now?.id === running.id) series.value = { ...now, count: now.count + 1 }
      })
    tick()
    const timer = setInterval(tick, 1000 * running.seconds)
    return () => clearInterval(timer)
  }, [running?.id])

  const figure = model.figure.value
  const place = figure && band.value ? bandPlace(figure.temperatureK, band.value) : null
  useEffect(() => {
    if (place && !model.held.peek()) signals.peek()?.tell(place)
  }, [place, figure])

  const aloud = useAloud(() => aloudWords(model, place))

  const trouble = model.trouble.value
  useEffect(() => {
    if (model.camera.kind === 'practice') return
    noteGlow(
      figure ? true : trouble === 'no glow' ? false : null,
      figure?.temperatureK ?? null,
      now(),
    )
  }, [figure, trouble])

  const whiteBalance = model.locks.value?.whiteBalance
  return (
    <main class={`screen ${css.live}`}>
      <header>
        <button type="button" onClick={onStop}>
          Stop
        </button>
        <div class={css.name}>
          <h1>{model.camera.kind === 'practice' ? 'Practice bench' : 'Live camera'}</h1>
          {model.camera.kind === 'practice' && <span class="tag">Simulated</span>}
        </div>
        <TellButtons aloud={aloud} band={band} signals={signals} />
      </header>
      <div class={css.liveWork}>
        <DarkOffer model={model} />
        <LivePicture model={model} placing={placing} />
        <div class="stack">
          <LiveReadout model={model} />
          <div class={css.reach}>
            <button
              type="button"
              class={`primary ${css.liveSave}`}
              disabled={!figure || saving.value}
              onClick={() => onSurface(() => void save())}
            >
              {saving.value ? 'Saving …' : 'Save'}
            </button>
            <button
              type="button"
              aria-pressed={model.held.value}
              onClick={() => {
                model.held.value = !model.held.value
              }}
            >
              {model.held.value ? 'Go on' : 'Hold'}
            </button>
            {failure.value && (
              <p role="alert" class="failure">
                {failure.value}
              </p>
            )}
            <RecordPanel model={model} rate={rate} onSurface={onSurface} />
            <BandPanel band={band} expandedUncertaintyK={figure?.expandedUncertaintyK ?? null} />
          </div>
          <RatePanel rate={rate} />
          {aloud && <AloudPanel aloud={aloud} />}
        </div>
      </div>
      <Notices
        notices={[
          ...(whiteBalance && whiteBalance !== 'locked' && !model.byCard.value
            ? [BALANCE_NOT_LOCKED]
            : []),
          ...(figure && !model.curve.inUse.value.recovered && exposureRange(model.camera)
            ? [CURVE_NOT_KNOWN]
            : []),
          ...(mayGoDark.value ? [SCREEN_MAY_SLEEP] : []),
          ...(model.canvasOnly.value ? [CANVAS_ONLY] : []),
        ]}
      />
      <CardPanel model={model} placing={placing} />
      <LocksPanel model={model} />
      <SeriesPanel
        object={object}
        running={running}
        onStart={(seconds) => {
          onSurface(() => {
            series.value = { id: newUuid(), seconds, count: 0 }
          })
        }}
        onStop={() => {
          series.value = null
        }}
      />
      <SurfaceQuestion
        label="Before it is saved"
        object={object}
        materialId={materialId}
        onSurface={(said, cover) => {
          const now = choices.peek()
          choices.value = { ...now, materialId: said, cover: cover ?? now.cover }
        }}
        waiting={waiting}
      />
      <LookPicker />
      <p class="small caution">{CONTEXT_CAUTIONS['live camera'].text}</p>
      <p class="small soft">{LIVE_RANGE}</p>
    </main>
  )
}

/** What is read aloud: the figure, its plus or minus, and where it lies in the target band. */
function aloudWords(model: LiveModel, place: BandPlace | null): string {
  const figure = model.figure.peek()
  if (!figure) return 'No figure.'
  const value = showTemperature(figure.temperatureK)
  const open = showDifference(figure.expandedUncertaintyK)
  return `${value}, plus or minus ${open}${place ? `, ${place}` : ''}.`
}
