import { useEffect, useMemo } from 'preact/hooks'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import { noteCheck } from '../../session/kit/note-check.ts'
import { createExposureWork } from '../../session/live/exposure-work.ts'
import { exposureRange } from '../../session/live/live-controls.ts'
import { streamCurveId } from '../../session/live/live-curve.ts'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import { useServices } from '../../session/services.ts'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { Notices } from '../../ui/notices.tsx'
import { KeepCurve } from '../../ui/photo/store-curve.tsx'
import { sayFailure } from '../../ui/say-failure.ts'
import { EXPOSURE_NOT_SET, exposureWords, LOCK_NAMES, LOCK_STATES } from '../../ui/words/live.ts'
import { curveCheckNotice } from '../../ui/words/stored-curve.ts'
import { sweepFindingNotice, sweepRefusalNotice } from '../../ui/words/sweep.ts'
import { DeviceChoice } from './device-choice.tsx'

const PARTS = ['exposure', 'whiteBalance', 'focus'] as const

/** What is locked, the exposure, and the sweep. */
export function LocksPanel({ model }: { model: LiveModel }) {
  const { camera, curve, desk } = model
  const { log, now } = useServices()
  const work = useMemo(
    () =>
      createExposureWork(
        model,
        (id, check) => void noteCheck(log, id, check, now().toISOString()).catch(sayFailure),
      ),
    [model],
  )
  const { busy, progress, failed, result, check, exposure } = work
  const locks = model.locks.value
  const settable = exposureRange(camera) !== null

  // The exposure is found once by itself, as soon as there is a glow, seen or overexposed.
  const seen = model.region.value !== null || model.trouble.value === 'clipped'
  const first = settable && seen && locks?.exposure === 'locked'
  useEffect(() => {
    if (first) void work.begin('exposure')
  }, [first])

  const ready = seen && busy.value === null
  const { kept } = curve
  const measured = result.value?.kind === 'measured' ? result.value : null
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
              {part === 'exposure' && exposure.value ? `, ${exposureWords(exposure.value)}` : ''}
            </dd>
          </>
        ))}
        <dt>Tone curve</dt>
        <dd>
          {curve.swept.value
            ? 'from the sweep'
            : curve.inUse.value.recovered
              ? 'from the kit'
              : 'not known'}
        </dd>
      </dl>
      {locks && PARTS.some((part) => locks[part] === 'refused' || locks[part] === 'drifts') && (
        <button type="button" onClick={() => void model.lock()}>
          Lock again
        </button>
      )}
      {settable ? (
        <div class="row">
          <button
            type="button"
            class="grow"
            disabled={!ready}
            onClick={() => void work.begin('exposure')}
          >
            Find exposure
          </button>
          <button
            type="button"
            class="grow"
            disabled={!ready}
            onClick={() => void work.begin('sweep')}
          >
            Exposure sweep
          </button>
        </div>
      ) : (
        <>
          <Notices notices={[EXPOSURE_NOT_SET]} />
          <a class="button" href="/">
            Open photos
          </a>
        </>
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
      {measured && (
        <Notices notices={measured.findings.map((finding) => sweepFindingNotice(finding))} />
      )}
      {measured && curve.swept.value && (
        <KeepCurve
          {...curve.swept.value}
          originOf={(at) => ({
            date: momentOf(at, deviceZone()),
            camera: camera.id,
            cameraId: camera.id,
            curveId: streamCurveId(camera),
            simulated: camera.kind === 'practice',
          })}
          label="Keep this tone curve for live readings"
        />
      )}
      {kept.value && !curve.swept.value && (
        <label class="choice">
          <input
            type="checkbox"
            checked={curve.useStored.value}
            onChange={(event) => {
              curve.useStored.value = event.currentTarget.checked
            }}
          />
          <span>Undo the tone curve that the kit holds for this camera’s stream</span>
        </label>
      )}
      {check.value && !curve.swept.value && (
        <Notices notices={[curveCheckNotice(check.value, false)]} />
      )}
      <div class="stack">
        {camera.kind === 'camera' && <DeviceChoice liveId={camera.id} />}
        <MaterialPicker
          unstated
          materialId={desk.choices.value.materialId}
          onMaterial={(materialId) => {
            desk.choices.value = { ...desk.choices.value, materialId }
          }}
        />
        <label class="field">
          <span>Mains frequency, for lamps that flicker</span>
          <select
            value={desk.mainsHz.value}
            onChange={(event) => {
              desk.mainsHz.value = Number(event.currentTarget.value) === 60 ? 60 : 50
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
