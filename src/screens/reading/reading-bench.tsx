import { useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { ReadingModel } from '../../session/reading/reading-model.ts'
import { useServices } from '../../session/services.ts'
import { Notices } from '../../ui/notices.tsx'
import { GreyPanel } from '../../ui/photo/grey-panel.tsx'
import { useDroppedPhotos } from '../../ui/photo/opening-panel.tsx'
import { Stage } from '../../ui/photo/stage.tsx'
import { SweepPanel, SweepRefusalPanel } from '../../ui/photo/sweep-panel.tsx'
import { say } from '../../ui/spoken.tsx'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import { ChoicesPanel } from './choices-panel.tsx'
import { BudgetDetails, ColourDetails, EvennessDetails } from './details.tsx'
import { ReadingNotices } from './notices-panel.tsx'
import { PhotoDetails } from './photo-details.tsx'
import { PlaceOnChart } from './place-on-chart.tsx'
import { ResultPanel } from './result-panel.tsx'
import { SavePanel } from './save-panel.tsx'
import { StrayPanel } from './stray-panel.tsx'
import { TruthPanel } from './truth-panel.tsx'

export { createReadingModel } from '../../session/reading/reading-model.ts'

/** An open photo being read: picture, figure, what was said about it, and what it rests on. */
export function ReadingBench({ model }: { model: ReadingModel }) {
  const services = useServices()
  const placing = useSignal<'glow' | 'card'>('glow')
  const host = useRef<HTMLElement>(null)
  useDroppedPhotos(host, () => say('A photo is open. Put it away first: New photo.'))
  const photo = model.glow.photo.value
  const estimate = model.estimate.value
  const refusal = photoRefusalNotice(model.glow.refusal.value ?? model.other.refusal.value)
  if (!photo) return null
  return (
    <main class="screen reading" ref={host}>
      <header>
        <h1>Reading</h1>
        {model.simulatedTruthK.value !== null && <span class="tag">{PRACTICE_LABEL}</span>}
        <button
          type="button"
          class="whole"
          onClick={() => {
            placing.value = 'glow'
            model.clear()
          }}
        >
          New photo
        </button>
      </header>
      {refusal && <Notices notices={[refusal]} />}
      <div class="bench">
        <div class="left">
          <Stage model={model} placing={placing} />
        </div>
        <div class="right">
          <div class="stack">
            {estimate ? <ResultPanel estimate={estimate} /> : <Waiting model={model} />}
            {estimate && <PlaceOnChart estimate={estimate} />}
            <TruthPanel model={model} />
            <ReadingNotices model={model} />
          </div>
          <div class="stack">
            {model.sweep.value && <SweepPanel model={model} sweep={model.sweep.value} />}
            <h2>What it is, how it was taken</h2>
            <GreyPanel model={model} placing={placing} kept={services.kit.greys.value} />
            <ChoicesPanel model={model} />
            {(!model.sweep.value || model.sweep.value.checkOnly) && <StrayPanel model={model} />}
          </div>
        </div>
        <div class="left">
          {estimate?.kind === 'temperature' && <BudgetDetails estimate={estimate} />}
          {estimate?.eye && <ColourDetails eye={estimate.eye} />}
          {model.measurement.value && (
            <EvennessDetails
              measurement={model.measurement.value}
              extremesK={model.extremesK.value}
            />
          )}
          <PhotoDetails photo={photo} />
        </div>
      </div>
      <SavePanel model={model} />
    </main>
  )
}

/** No figure yet: what is being done, or where to look for the reason. */
function Waiting({ model }: { model: ReadingModel }) {
  const swept = model.sweep.value
  if (swept?.result.value?.kind === 'refused') {
    return (
      <>
        <h2>No figure from this sweep</h2>
        <SweepRefusalPanel sweep={swept} />
      </>
    )
  }
  return <p class="soft">{swept ? 'Reading the sweep …' : 'Measuring the glow …'}</p>
}
