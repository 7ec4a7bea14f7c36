import { useEffect } from 'preact/hooks'
import { LAMP_TARGETS } from '../../physics/lamp-targets.ts'
import { captureOf, discardCapture, openLamp } from '../../session/kit/capture-draft.ts'
import { keepLampDraft } from '../../session/kit/lamp-draft.ts'
import { createLampModel, type LampModel } from '../../session/kit/lamp-model.ts'
import { useServices } from '../../session/services.ts'
import { DimmerQuestion } from '../../ui/lamp/dimmer-question.tsx'
import { LampSetup, MeterFields, WayPicker } from '../../ui/lamp/lamp-fields.tsx'
import { LampResult } from '../../ui/lamp/lamp-result.tsx'
import { go } from '../../ui/router.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { KIT_WORDS } from '../../ui/words/kit.ts'
import { LAMP_CAUTIONS, LAMP_STEPS, LAMP_TARGET_WORDS } from '../../ui/words/lamps.ts'
import { CONTEXT_CAUTIONS } from '../../ui/words/safety-statements.data.ts'
import { BackHeader } from './back-header.tsx'
import css from './kit.module.css'
import { LadderPanel } from './ladder-panel.tsx'
import { KeepLamp } from './store-lamp.tsx'

/** A filament lamp: measured, then photographed. Without an id it is one that is new to the kit. */
export function LampScreen({ id }: { id: string }) {
  const { kit } = useServices()
  const kept = kit.lamps.value.find(({ item }) => item.id === id)
  const reading = kit.state.value === 'reading'
  useEffect(() => {
    const current = openLamp.peek()
    // A lamp that was stored while it was measured stays open.
    const same = current && (id === '' || current.lampId === id)
    if (same || (!kept && id !== '')) return
    const model = createLampModel(kept ?? null)
    keepLampDraft(model)
    openLamp.value = model
  }, [id, kept])
  const model = openLamp.value
  if (id && !kept && !reading) {
    return (
      <main class={`screen ${css.kit}`}>
        <BackHeader to="/kit" title="Lamp" />
        <p class="card">{KIT_WORDS.gone}</p>
      </main>
    )
  }
  if (!model) return null
  // The ladder changes the dimmer, not the lamp: what stays is folded away.
  const settled = model.ladder.value !== null
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader to="/kit" title={model.form.value.name || 'Lamp'} />
      <div class={css.columns}>
        <div class="stack">
          <LadderPanel model={model} />
          {settled ? (
            <details>
              <summary>Lamp and meters</summary>
              <div class="inside">
                <WayPicker model={model} />
                <LampSetup model={model} />
              </div>
            </details>
          ) : (
            <>
              <WayPicker model={model} />
              <LampSetup model={model} />
            </>
          )}
          <DimmerQuestion model={model} />
          <MeterFields model={model} />
          <LampResult outcome={model.outcome.value} />
        </div>
        <div class="stack">
          <Cautions />
          <PhotoSteps model={model} />
          <KeepLamp model={model} />
        </div>
      </div>
      <Photograph model={model} />
    </main>
  )
}

function Cautions() {
  return (
    <details class={css.hazards}>
      <summary>Before you measure</summary>
      <div class="inside">
        <ul>
          {LAMP_CAUTIONS.map((one) => (
            <li key={one}>{CONTEXT_CAUTIONS[one].text}</li>
          ))}
        </ul>
      </div>
    </details>
  )
}

function PhotoSteps({ model }: { model: LampModel }) {
  return (
    <section class="stack" aria-labelledby="lamp-photo">
      <h2 id="lamp-photo">Its photo</h2>
      <ol class={css.steps}>
        {LAMP_STEPS.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <SelectField
        label="What is photographed"
        of={LAMP_TARGETS.map(({ id }) => [id, LAMP_TARGET_WORDS[id]])}
        value={model.target.value}
        onValue={(target) => {
          model.target.value = target
        }}
      />
    </section>
  )
}

/** The way to the photo of the lamp as it burns now. */
function Photograph({ model }: { model: LampModel }) {
  const { kit } = useServices()
  const outcome = model.outcome.value
  const ready = !('missing' in outcome) && outcome.ok
  const photograph = () => {
    const subject = model.subject()
    if (!subject) return
    discardCapture()
    captureOf(kit, subject)
    go('kit', 'lamp-photo')
  }
  return (
    <div class="dock">
      <button type="button" class="primary wide" disabled={!ready} onClick={photograph}>
        Photograph this setting
      </button>
    </div>
  )
}
