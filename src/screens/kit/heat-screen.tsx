import { useEffect } from 'preact/hooks'
import type {
  FixedPointHazard,
  FixedPointId,
  FixedPointRefusal,
} from '../../physics/fixed-points.ts'
import { captureForReady, captureOf, openCapture } from '../../session/kit/capture-draft.ts'
import type { CaptureModel } from '../../session/kit/capture-model.ts'
import { heatById, type SubjectTemperature } from '../../session/kit/subject.ts'
import { useServices } from '../../session/services.ts'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import {
  HURTING_HAZARDS,
  KNOWN_HEAT_HAZARD_WORDS,
  KNOWN_HEAT_REFUSAL_WORDS,
  KNOWN_HEAT_STEP_WORDS,
} from '../../ui/words/known-heats.ts'
import { BackHeader } from './back-header.tsx'
import { CapturePanel } from './capture-panel.tsx'
import { HeatChoicePanel } from './heat-choice-panel.tsx'
import css from './kit.module.css'
import { KitPhotoSources } from './kit-photo-sources.tsx'

/** One known heat: what to do, then its photo. */
export function HeatScreen({ id }: { id: FixedPointId }) {
  const { kit } = useServices()
  const heat = heatById(id)
  useEffect(() => {
    const current = openCapture.peek()?.subject.peek()
    const same = current?.kind === 'known heat' && current.choice.id === id
    if (!same) captureOf(kit, { kind: 'known heat', choice: { id } })
  }, [kit, id])
  const capture = openCapture.value
  const photographed = Boolean(capture?.reading.glow.photo.value)
  useEffect(() => {
    // The steps were scrolled through; the picture stands at the top.
    if (photographed) scrollTo(0, 0)
  }, [photographed])
  const subject = capture?.subject.value
  if (!heat || !capture || subject?.kind !== 'known heat') return null
  if (capture.reading.glow.photo.value) {
    return (
      <CapturePanel
        capture={capture}
        title={heat.name}
        back="/kit"
        after={captureForReady.value ? '/kit/ready' : '/kit'}
      >
        <HeatChoice capture={capture} />
      </CapturePanel>
    )
  }
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader to="/kit/known-heat" title={heat.name} />
      <div class={css.columns}>
        <div class="stack">
          <HeatChoice capture={capture} />
          <Hazards hazards={heat.hazards} />
        </div>
        <section class="stack" aria-labelledby="heat-steps">
          <h2 id="heat-steps">Steps</h2>
          <ol class={css.steps}>
            {heat.steps.map((step) => (
              <li key={step}>{KNOWN_HEAT_STEP_WORDS[step]}</li>
            ))}
          </ol>
          <p class="small soft">
            Surest: an exposure sweep. Open its photos together, and the camera’s tone curve is
            taken out.
          </p>
        </section>
      </div>
      <div class="dock">
        <KitPhotoSources reading={capture.reading} />
      </div>
    </main>
  )
}

/** What is stated, and the temperature that follows. */
function HeatChoice({ capture }: { capture: CaptureModel }) {
  const subject = capture.subject.value
  if (subject.kind !== 'known heat') return null
  return (
    <div class="stack">
      <HeatChoicePanel
        choice={subject.choice}
        onChoice={(choice) => {
          capture.subject.value = { kind: 'known heat', choice }
        }}
      />
      <KnownTemperature known={capture.temperature.value} />
    </div>
  )
}

function KnownTemperature({ known }: { known: SubjectTemperature | FixedPointRefusal }) {
  if (!known.ok) return <p class="soft">{KNOWN_HEAT_REFUSAL_WORDS[known.code]}</p>
  return (
    <p class={css.knownTemperature}>
      <TemperatureFigure
        size="line"
        temperatureK={known.temperatureK}
        expandedUncertaintyK={2 * known.standardUncertaintyK}
      />{' '}
      <span class="small soft">19 times in 20: the point, the carrier and the moment</span>
    </p>
  )
}

/** What can hurt stands open; what can spoil the reading is one tap away where both are many. */
function Hazards({ hazards }: { hazards: readonly FixedPointHazard[] }) {
  const list = (of: readonly FixedPointHazard[]) => (
    <ul>
      {of.map((hazard) => (
        <li key={hazard}>{KNOWN_HEAT_HAZARD_WORDS[hazard]}</li>
      ))}
    </ul>
  )
  const hurting = hazards.filter((hazard) => HURTING_HAZARDS.has(hazard))
  const spoiling = hazards.filter((hazard) => !HURTING_HAZARDS.has(hazard))
  return (
    <section class={`card stack ${css.hazards}`} aria-labelledby="heat-hazards">
      <h2 id="heat-hazards">What can hurt</h2>
      {list(hurting)}
      <p class="small soft">
        Heat, fumes, mains: <a href="/safety">Safety</a> first.
      </p>
      {spoiling.length > 0 && (
        <details>
          <summary>What can spoil the reading</summary>
          <div class="inside">{list(spoiling)}</div>
        </details>
      )}
    </section>
  )
}
