import { effect, useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { carriedReading } from '../../session/carried-reading.ts'
import { profileOf } from '../../session/kit/camera-profile.ts'
import { eyeHelps, nextStep } from '../../session/reading/next-step.ts'
import { openRecord } from '../../session/reading/open-record.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { Notices } from '../../ui/notices.tsx'
import { OpenDetails } from '../../ui/open-details.tsx'
import { GreyPanel } from '../../ui/photo/grey-panel.tsx'
import { useDroppedPhotos } from '../../ui/photo/opening-panel.tsx'
import { RawPairPanel } from '../../ui/photo/raw-pair-panel.tsx'
import { Stage } from '../../ui/photo/stage.tsx'
import { StoredCurveNotice } from '../../ui/photo/stored-curve-choice.tsx'
import { SweepPanel, SweepRefusalPanel } from '../../ui/photo/sweep-panel.tsx'
import { SweepFromHere } from '../../ui/photo/sweep-plan.tsx'
import { IntervalLine } from '../../ui/quantity.tsx'
import { say } from '../../ui/spoken.tsx'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'
import { contradictionNotice, lockHeldNotice, undecidedNotice } from '../../ui/words/next-step.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import { AppliedLine } from './applied-line.tsx'
import { ChoicesPanel } from './choices-panel.tsx'
import { BudgetDetails, ColourDetails, EvennessDetails, NamesDetails } from './details.tsx'
import { MapDetails } from './map-details.tsx'
import { MoreWays } from './more-ways.tsx'
import { NextStepButton } from './next-step-button.tsx'
import { ReadingNotices } from './notices-panel.tsx'
import { PhotoDetails } from './photo-details.tsx'
import { PlaceOnChart } from './place-on-chart.tsx'
import style from './result.module.css'
import { ResultPanel } from './result-panel.tsx'
import { SavePanel } from './save-panel.tsx'
import { StrayPanel } from './stray-panel.tsx'
import { TruthPanel } from './truth-panel.tsx'
import { useStatedLock } from './use-stated-lock.ts'

export { createBatchModel } from '../../session/reading/batch-model.ts'
export { rememberOpen } from '../../session/reading/put-away.ts'
export { createReadingModel } from '../../session/reading/reading-model.ts'
export { warmUpEstimate } from '../../session/reading/warm-up.ts'
export { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
export { BatchView } from './batch-view.tsx'

/** An open photo being read: figure and next step first, then the picture and what it rests on. */
export function ReadingBench({
  model,
  onPutAway,
  onOpen,
}: {
  model: ReadingModel
  onPutAway: () => void
  onOpen: (file: File) => void
}) {
  const services = useServices()
  const placing = useSignal<'glow' | 'card'>('glow')
  const host = useRef<HTMLElement>(null)
  const how = useRef<HTMLDetailsElement>(null)
  const picture = useRef<HTMLDivElement>(null)
  /** By its summary, as a person does: the browser's Back closes it. */
  const showHow = () => {
    if (!how.current?.open) how.current?.querySelector('summary')?.click()
    how.current?.scrollIntoView()
  }
  useStatedLock(model)
  useDroppedPhotos(host, () => say('A photo is open. Put it away first: New photo.'))
  useEffect(() => {
    const stop = effect(() => {
      carriedReading.value = carried(model, services.now)
    })
    return () => {
      stop()
      carriedReading.value = null
    }
  }, [model, services.now])
  const photo = model.glow.photo.value
  const estimate = model.estimate.value
  const refusal = photoRefusalNotice(model.glow.refusal.value ?? model.other.refusal.value)
  if (!photo) return null
  const { contradictions = [], heldSince, undecided } = model.stored.value ?? {}
  const step =
    estimate &&
    nextStep({
      estimate,
      stored: model.stored.value,
      balanceKind: model.choices.value.balanceState.kind,
      hasCard: model.balance.value !== null,
      device: model.device.value,
      materialId: model.choices.value.materialId,
      infraredUntried:
        profileOf(model.device.value, services.kit).stored?.data.leakTests.length === 0,
      storedLevels: model.measurement.value?.storedLevels ?? null,
    })
  return (
    <main class="screen broad" ref={host}>
      <header>
        <div class={style.name}>
          <h1>Reading</h1>
          {model.simulatedTruthK.value !== null && <span class="tag">{PRACTICE_LABEL}</span>}
        </div>
        <button type="button" class="whole" onClick={onPutAway}>
          New photo
        </button>
      </header>
      {refusal && <Notices notices={[refusal]} />}
      <div class={style.bench}>
        {estimate && step ? (
          <ResultPanel
            estimate={estimate}
            model={model}
            beside={
              eyeHelps(estimate) &&
              step.kind !== 'by eye' && (
                <a class={`button ${style.eye}`} href="/chart/by-eye">
                  Second estimate: by eye
                </a>
              )
            }
          >
            <NextStepButton
              step={step}
              model={model}
              onOpen={onOpen}
              onPlace={() => {
                placing.value = 'card'
                picture.current?.scrollIntoView()
              }}
              onCard={() => {
                placing.value = 'card'
                showHow()
              }}
            />
            <AppliedLine model={model} onChange={showHow} />
          </ResultPanel>
        ) : (
          <div class={style.result}>
            <p class="soft">
              {model.failed.value || model.sweep.value?.failed.value
                ? 'No figure.'
                : model.sweep.value
                  ? 'Reading the sweep …'
                  : 'Measuring the glow …'}
            </p>
          </div>
        )}
        <div class={style.picture} ref={picture}>
          <Stage model={model} placing={placing} />
          {estimate?.kind === 'temperature' && <MapDetails model={model} />}
        </div>
        <div class={`stack ${style.said}`}>
          <Notices notices={contradictions.map(contradictionNotice)} />
          {undecided && <Notices notices={[undecidedNotice(undecided)]} />}
          {heldSince !== undefined && <Notices notices={[lockHeldNotice(heldSince)]} />}
          <StoredCurveNotice model={model} />
          {model.sweep.value && <SweepRefusalPanel model={model} sweep={model.sweep.value} />}
          {estimate?.kind === 'temperature' && <IntervalLine {...estimate} />}
          {estimate && <PlaceOnChart estimate={estimate} />}
          <TruthPanel model={model} />
          <ReadingNotices model={model} />
          {model.sweep.value && <SweepPanel model={model} sweep={model.sweep.value} />}
          <SweepFromHere model={model} />
          {model.pair.value && <RawPairPanel model={model} pair={model.pair.value} />}
          <details ref={how}>
            <summary>What it is, how it was taken</summary>
            <div class="inside">
              <GreyPanel model={model} placing={placing} kept={services.kit.greys.value} />
              <ChoicesPanel model={model} />
              {(!model.sweep.value || model.sweep.value.checkOnly) && <StrayPanel model={model} />}
            </div>
          </details>
        </div>
        <div class={`stack ${style.rest}`}>
          <MoreWays model={model} />
          <OpenDetails summary="Behind the figure">
            {() => (
              <div class={`inside ${style.behind}`}>
                {estimate?.kind === 'temperature' && <BudgetDetails estimate={estimate} />}
                {estimate?.kind === 'temperature' && <NamesDetails estimate={estimate} />}
                {estimate?.eye && <ColourDetails eye={estimate.eye} />}
                {model.measurement.value && (
                  <EvennessDetails
                    measurement={model.measurement.value}
                    extremesK={model.extremesK.value}
                  />
                )}
                <PhotoDetails photo={photo} />
              </div>
            )}
          </OpenDetails>
        </div>
      </div>
      <SavePanel model={model} />
    </main>
  )
}

function carried(model: ReadingModel, now: () => Date) {
  const estimate = model.estimate.value
  if (estimate?.kind !== 'temperature') return null
  const { temperatureK, expandedUncertaintyK, interval95K } = estimate
  return {
    temperatureK,
    expandedUncertaintyK,
    interval95K,
    object: model.object.value.trim(),
    href: '/',
    record: () => openRecord(model, now()),
  }
}
