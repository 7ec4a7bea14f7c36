import { useEffect } from 'preact/hooks'
import type { SweepMeasurement, SweepRefusal } from '../../light/exposure-sweep/sweep-result.ts'
import { noteCheck } from '../../session/kit/note-check.ts'
import { curveOriginOf } from '../../session/kit/store-curve.ts'
import { takenAtOf } from '../../session/reading/photo-meaning.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import type { SweepModel } from '../../session/reading/sweep-model.ts'
import { useServices } from '../../session/services.ts'
import { Notices } from '../notices.tsx'
import { sayFailure } from '../say-failure.ts'
import { curveCheckNotice } from '../words/stored-curve.ts'
import { sweepFindingNotice, sweepRefusalNotice } from '../words/sweep.ts'
import { CurveDrawing } from './curve-drawing.tsx'
import { KeepCurve } from './store-curve.tsx'
import style from './sweep.module.css'
import { AddPhotos, SweepPlanList } from './sweep-plan.tsx'

const photoNames =
  ({ sweep }: SweepModel) =>
  (frame: number) =>
    sweep.photos[frame]?.name ?? `Photo ${frame + 1}`

/** Why a sweep gives no figure, and what can be added; nothing where it gives one. */
export function SweepRefusalPanel({ model, sweep }: { model: ReadingModel; sweep: SweepModel }) {
  const result = sweep.result.value
  if (result?.kind !== 'refused') return null
  const nameOf = photoNames(sweep)
  return (
    <section class="stack">
      <Notices notices={[sweepRefusalNotice(result, nameOf)]} />
      {model.estimate.value?.kind === 'temperature' && (
        <p>The figure is that of the best photo alone: its ± is larger than a sweep’s.</p>
      )}
      {MORE_HELPS.has(result.reason) && <SweepPlanList model={model} />}
      <AddPhotos model={model} />
    </section>
  )
}

/** Refusals for want of exposures. */
const MORE_HELPS: ReadonlySet<SweepRefusal> = new Set([
  'too few frames',
  'exposures do not differ',
  'clipped',
  'dark',
  'no shared codes',
  'curve kind undecided',
])

/** The photos of a sweep, their exposures, and what came of them but a refusal. */
export function SweepPanel({ model, sweep }: { model: ReadingModel; sweep: SweepModel }) {
  const result = sweep.result.value
  const check = sweep.check.value
  const progress = sweep.progress.value
  const nameOf = photoNames(sweep)
  const missing = sweep.stops.value.some((value) => value === null)
  const { log, now } = useServices()
  useEffect(() => {
    if (!sweep.kept || !check) return
    noteCheck(log, sweep.kept.id, check, takenAtOf(sweep.sweep.base.facts, now()).iso).catch(
      sayFailure,
    )
  }, [sweep, check])
  return (
    <section class="stack">
      <h2>{sweep.checkOnly ? 'Check of the tone curve' : 'Exposure sweep'}</h2>
      {missing && (
        <p class="soft">
          The photos do not say how they were exposed. Enter the stops relative to the first, or
          fill in steps of one stop.
        </p>
      )}
      {progress !== null && (
        <progress aria-label="Reading the photos of the sweep" value={progress} />
      )}
      {check && <Notices notices={[curveCheckNotice(check, !sweep.checkOnly)]} />}
      {result?.kind === 'measured' && (
        <>
          <Notices
            notices={result.findings.map((finding) => sweepFindingNotice(finding, nameOf))}
          />
          {result.findings.some(({ code }) => code === 'sweep short') && (
            <AddPhotos model={model} />
          )}
          <Recovered result={result} />
          <KeepCurve
            id={sweep.id}
            curve={result.curve}
            channelOdds={result.channelOdds}
            originOf={(at) => curveOriginOf(model, at)}
            label="Keep this tone curve for single photos"
          />
        </>
      )}
      <details open={missing}>
        <summary>
          {sweep.sweep.photos.length} photos
          {result ? `, ${result.frames.filter(({ status }) => status === 'used').length} used` : ''}
        </summary>
        <div class="inside">
          <button
            type="button"
            onClick={() => {
              sweep.stops.value = sweep.stops.value.map((_, i) => -i)
            }}
          >
            One stop darker each
          </button>
          <table class="numbers-table">
            <thead>
              <tr>
                <th scope="col">Photo</th>
                <th scope="col">Stops</th>
                <th scope="col">Red, green</th>
                <th scope="col">Use</th>
              </tr>
            </thead>
            <tbody>
              {sweep.sweep.photos.map(({ name }, i) => {
                const report = result?.frames[i]
                return (
                  <tr key={name}>
                    <th scope="row" class={style.name}>
                      {name}
                    </th>
                    <td>
                      <input
                        type="number"
                        inputMode="decimal"
                        step="0.01"
                        aria-label={`Stops of ${name}`}
                        value={sweep.stops.value[i] ?? ''}
                        onChange={(event) => {
                          const value = event.currentTarget.valueAsNumber
                          sweep.stops.value = sweep.stops.value.map((before, k) =>
                            k === i ? (Number.isFinite(value) ? value : null) : before,
                          )
                        }}
                      />
                    </td>
                    <td>
                      {report
                        ? report.codes
                            .slice(0, 2)
                            .map((code) => code.toFixed(0))
                            .join(', ')
                        : ''}
                    </td>
                    <td>{report ? (report.status === 'used' ? 'used' : report.status) : ''}</td>
                  </tr>
                )
              })}
            </tbody>
          </table>
        </div>
      </details>
    </section>
  )
}

function Recovered({ result }: { result: SweepMeasurement }) {
  const { curve, kindProbability, depth } = result
  return (
    <details>
      <summary>The recovered tone curve</summary>
      <div class="inside">
        <CurveDrawing curve={curve} />
        <dl class="facts">
          <dt>Kind</dt>
          <dd>
            {curve.kind === 'channel' ? 'each channel by itself' : 'keeps the ratio of channels'} (
            {(100 * kindProbability).toFixed(0)} %)
          </dd>
          <dt>Residual</dt>
          <dd>
            {(100 * curve.residual).toFixed(1)} % of light over {curve.data} values
          </dd>
          <dt>G/R uncertain by</dt>
          <dd>± {(200 * result.standardUncertaintyGreen).toFixed(1)} %</dd>
          <dt>Goes down</dt>
          <dd>
            {depth.givenStops.toFixed(1)} stops, {depth.neededStops.toFixed(1)} needed
          </dd>
        </dl>
      </div>
    </details>
  )
}
