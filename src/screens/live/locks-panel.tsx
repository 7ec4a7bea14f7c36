import { useSignal } from '@preact/signals'
import type { SweepResult } from '../../light/exposure-sweep/sweep-result.ts'
import { MATERIALS } from '../../physics/materials.ts'
import { Notices } from '../../ui/notices.tsx'
import { EXPOSURE_NOT_SET, LOCK_NAMES, LOCK_STATES } from '../../ui/words/live.ts'
import { sweepFindingNotice, sweepRefusalNotice } from '../../ui/words/sweep.ts'
import { exposureRange, findExposure, runSweep } from './live-controls.ts'
import type { LiveModel } from './live-model.ts'

const PARTS = ['exposure', 'whiteBalance', 'focus'] as const

/** What is locked, the exposure, and the sweep. */
export function LocksPanel({ model }: { model: LiveModel }) {
  const mainsHz = useSignal<50 | 60>(50)
  const busy = useSignal<'exposure' | 'sweep' | null>(null)
  const progress = useSignal(0)
  const failed = useSignal(false)
  const result = useSignal<SweepResult | null>(null)
  const locks = model.locks.value
  const settable = exposureRange(model.camera) !== null

  const work = async (what: 'exposure' | 'sweep') => {
    busy.value = what
    failed.value = false
    progress.value = 0
    try {
      await findExposure(model, mainsHz.value)
      if (what === 'sweep') {
        result.value = await runSweep(model, (share) => {
          progress.value = share
        })
        if (result.value?.kind === 'measured') model.curve.value = result.value.curve
      }
    } catch {
      failed.value = true
    } finally {
      busy.value = null
    }
  }

  const ready = model.region.value !== null && busy.value === null
  return (
    <section class="stack">
      <h2>Camera</h2>
      <dl class="facts">
        {PARTS.map((part) => (
          <>
            <dt>{LOCK_NAMES[part]}</dt>
            <dd>
              {locks ? LOCK_STATES[locks[part]] : '…'}
              {part === 'whiteBalance' && locks?.colourTemperatureK
                ? ` on ${locks.colourTemperatureK} K`
                : ''}
            </dd>
          </>
        ))}
        <dt>Tone curve</dt>
        <dd>{model.curve.value ? 'from the sweep' : 'not known'}</dd>
      </dl>
      {settable ? (
        <div class="row">
          <button
            type="button"
            class="grow"
            disabled={!ready}
            onClick={() => void work('exposure')}
          >
            Find exposure
          </button>
          <button type="button" class="grow" disabled={!ready} onClick={() => void work('sweep')}>
            Exposure sweep
          </button>
        </div>
      ) : (
        <Notices notices={[EXPOSURE_NOT_SET]} />
      )}
      {busy.value === 'sweep' && (
        <progress aria-label="Exposure sweep, keep still" value={progress.value} />
      )}
      {failed.value && (
        <p role="alert" class="failure">
          The camera gave no frames, or refused the exposure. Try again.
        </p>
      )}
      {result.value?.kind === 'refused' && <Notices notices={[sweepRefusalNotice(result.value)]} />}
      {result.value?.kind === 'measured' && (
        <Notices notices={result.value.findings.map(sweepFindingNotice)} />
      )}
      <div class="two-up">
        <label class="field">
          <span>Surface</span>
          <select
            value={model.choices.value.materialId}
            onChange={(event) => {
              model.choices.value = {
                ...model.choices.value,
                materialId: event.currentTarget.value,
              }
            }}
          >
            {MATERIALS.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <label class="field">
          <span>Lamps on mains of</span>
          <select
            value={mainsHz.value}
            onChange={(event) => {
              mainsHz.value = Number(event.currentTarget.value) === 60 ? 60 : 50
            }}
          >
            <option value="50">50 Hz</option>
            <option value="60">60 Hz</option>
          </select>
        </label>
      </div>
    </section>
  )
}
