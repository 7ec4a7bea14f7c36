import { useSignal } from '@preact/signals'
import type { BatchModel, BatchRow } from '../../session/reading/batch-model.ts'
import { saysNothing } from '../../session/reading/next-step.ts'
import { useServices } from '../../session/services.ts'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { MayBeCleared } from '../../ui/may-be-cleared.tsx'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { go } from '../../ui/router.ts'
import { mayBeCleared } from '../../ui/settings.ts'
import { say } from '../../ui/spoken.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { TextField } from '../../ui/text-field.tsx'
import { useSavingInPlace } from '../../ui/use-saving.ts'
import { NO_NUMBER } from '../../ui/words/estimate.ts'
import { BELOW_RANGE } from '../../ui/words/measurement.ts'
import { IT_GLOWS } from '../../ui/words/next-step.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import style from './batch.module.css'

/** Separate photos as a table: all saved with one tap, what failed with its reason. */
export function BatchView({ model, onClose }: { model: BatchModel; onClose: () => void }) {
  const { now } = useServices()
  const { busy, failure, run } = useSavingInPlace()
  const clearable = useSignal(false)
  const rows = model.rows.value
  const open = rows.filter(({ state, savedAs }) => hasFigure(state) && savedAs === null).length
  const stated = model.materialId.value !== ''
  const save = () =>
    run(async (log) => {
      const count = await model.save(log, now())
      say(`${count} readings saved.`, { label: 'Open', run: () => go('log') })
      clearable.value = await mayBeCleared(log)
    })
  return (
    <main class="screen">
      <header>
        <h1>{rows.length} readings</h1>
        <button type="button" class="whole" onClick={onClose}>
          Close
        </button>
      </header>
      {!model.done.value && (
        <progress
          aria-label="Reading the photos"
          value={rows.filter(({ state }) => state.kind !== 'waiting').length / rows.length}
        />
      )}
      <ul class={style.rows}>
        {rows.map((row) => (
          <Row key={row.name} row={row} />
        ))}
      </ul>
      <div class="stack">
        <MaterialPicker
          unstated
          materialId={model.materialId.value}
          onMaterial={(materialId) => {
            model.materialId.value = materialId
          }}
        />
        <TextField
          label="Object"
          value={model.object.value}
          onValue={(typed) => {
            model.object.value = typed
          }}
        />
      </div>
      <div class="dock stack">
        {failure.value && (
          <p role="alert" class="failure">
            {failure.value}
          </p>
        )}
        {clearable.value && <MayBeCleared />}
        {!stated && <p class="soft">Choose the surface first.</p>}
        <button
          type="button"
          class="primary wide"
          disabled={!model.done.value || open === 0 || !stated || busy.value}
          onClick={() => void save()}
        >
          {busy.value ? 'Saving …' : open === 0 ? 'Saved' : `Save all ${open}`}
        </button>
      </div>
    </main>
  )
}

const hasFigure = (state: BatchRow['state']) =>
  state.kind === 'measured' && state.estimate.kind === 'temperature'

function Row({ row: { name, state, savedAs } }: { row: BatchRow }) {
  return (
    <li class={style.row}>
      {state.kind === 'measured' && state.pictureUrl ? (
        <img class={style.thumbnail} src={state.pictureUrl} alt="" />
      ) : (
        <span class={style.thumbnail} />
      )}
      <span class={style.what}>
        <State state={state} />
        <span class="small soft">
          {name}
          {savedAs !== null && ' · saved'}
        </span>
      </span>
    </li>
  )
}

function State({ state }: { state: BatchRow['state'] }) {
  if (state.kind === 'waiting') return <span class="soft">Waiting …</span>
  if (state.kind === 'failed')
    return <strong>{photoRefusalNotice(state.reason)?.title ?? 'Could not be read'}</strong>
  const { estimate } = state
  if (estimate.kind === 'temperature') {
    if (saysNothing(estimate)) return <strong>{IT_GLOWS.title}</strong>
    return (
      <TemperatureFigure
        size="line"
        temperatureK={estimate.temperatureK}
        expandedUncertaintyK={estimate.expandedUncertaintyK}
      />
    )
  }
  if (estimate.kind === 'below range')
    return <span>{BELOW_RANGE.line(showTemperature(estimate.upperBoundK))}</span>
  return <strong>{NO_NUMBER[estimate.reason].title}</strong>
}
