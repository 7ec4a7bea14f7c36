import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { say } from '../../ui/spoken.tsx'
import { useServices } from '../services.ts'
import { ChoicesPanel } from './choices-panel.tsx'
import { BudgetDetails, ColourDetails, EvennessDetails } from './details.tsx'
import { GreyPanel } from './grey-panel.tsx'
import { ReadingNotices } from './notices-panel.tsx'
import { PhotoDetails } from './photo-details.tsx'
import { PhotoSources } from './photo-sources.tsx'
import { PlaceOnChart } from './place-on-chart.tsx'
import './reading.css'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'
import { createReadingModel } from './reading-model.ts'
import { ResultPanel } from './result-panel.tsx'
import { SavePanel } from './save-panel.tsx'
import { Stage } from './stage.tsx'
import { TruthPanel } from './truth-panel.tsx'

/** From a photo of the glow to a dated reading. */
export function ReadingScreen() {
  const services = useServices()
  const model = useMemo(() => createReadingModel(services.kit.references), [services])
  useEffect(() => () => model.dispose(), [model])
  const placing = useSignal<'glow' | 'card'>('glow')
  const photo = model.photo.value
  const estimate = model.estimate.value

  if (!photo) {
    return (
      <main class="screen reading">
        <header>
          <h1>How hot is that glow?</h1>
        </header>
        <PhotoSources model={model} />
      </main>
    )
  }
  return (
    <main class="screen reading">
      <header>
        <h1>Reading</h1>
        {model.simulatedTruthK.value !== null && <span class="tag">{PRACTICE_LABEL}</span>}
        <button
          type="button"
          onClick={() => {
            placing.value = 'glow'
            model.clear()
          }}
        >
          New photo
        </button>
      </header>
      <div class="reading-columns">
        <div class="stack">
          <Stage model={model} placing={placing} />
          <GreyPanel model={model} placing={placing} kept={services.kit.greys.value} />
          <ChoicesPanel model={model} />
        </div>
        <div class="stack">
          {estimate ? (
            <ResultPanel estimate={estimate} />
          ) : (
            <p class="soft">Measuring the glow …</p>
          )}
          {estimate && <PlaceOnChart estimate={estimate} />}
          <ReadingNotices model={model} />
          <TruthPanel model={model} />
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
      <SavePanel model={model} log={services.log} onSaved={(text, action) => say(text, action)} />
    </main>
  )
}
