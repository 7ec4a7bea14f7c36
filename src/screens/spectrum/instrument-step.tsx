import type { StoredResponse } from '../../session/kit/stored-items.ts'
import type { SpectrumModel } from '../../session/spectrum/model-types.ts'
import { EntryActions, Facts } from '../../ui/kit-entry.tsx'
import { Notices } from '../../ui/notices.tsx'
import bench from '../../ui/photo/bench.module.css'
import { SelectField } from '../../ui/select-field.tsx'
import { showDay } from '../../ui/words/dates.ts'
import { spectrumRefusalNotice } from '../../ui/words/no-glow.ts'
import { referenceWords, responseFacts } from '../../ui/words/response-facts.ts'
import {
  REFERENCE_WORDS,
  RESPONSE_SETTINGS,
  SPECTRUM_CALIBRATED,
  SPECTRUM_EMPTY,
  SPECTRUM_GUIDE,
  spectrumNotice,
} from '../../ui/words/spectrum.ts'
import { ImportPanel } from './import-panel.tsx'
import { InstrumentFields } from './instrument-fields.tsx'
import { LampPanel } from './lamp-panel.tsx'
import { rawPlot, responsePlot } from './plot-data.ts'
import { PlotPanel } from './plot-panel.tsx'
import { RangeFields } from './range-fields.tsx'
import style from './spectrum-screen.module.css'
import { KeepResponse } from './store-response.tsx'

/** Step 1: a response from the kit, or a new one from a lamp. */
export function InstrumentStep({ model }: { model: SpectrumModel }) {
  const kept = model.kept.value
  const chosen = kept.find(({ item }) => item.id === model.storedResponse.value)
  const calibrated = model.lamp.emitter.value === 'calibration'
  const begun = model.imported.files.value.some(({ step }) => step === 'instrument')
  const isNew = !begun && !calibrated && model.further.value.length === 0
  return (
    <div class={bench.bench}>
      <div class={bench.left}>
        {kept.length > 0 && <StoredPicker model={model} kept={kept} />}
        <BesideReferences model={model} />
        {chosen ? (
          <StoredFacts chosen={chosen} />
        ) : (
          <>
            {!calibrated && (
              <ImportPanel model={model} step="instrument" label="Open a reference" />
            )}
            {(begun || calibrated) && <LampPanel choice={model.lamp} />}
            {(begun || calibrated) && <InstrumentFields instrument={model.instrument} />}
            {isNew && (
              <button
                type="button"
                class="wide"
                onClick={() => {
                  model.lamp.emitter.value = 'calibration'
                }}
              >
                {SPECTRUM_CALIBRATED}
              </button>
            )}
          </>
        )}
        {isNew && !chosen && <Beginning model={model} />}
        {model.inUse.value && <MoreReferences model={model} kept={kept} />}
      </div>
      <div class={`${bench.right} ${style.right}`}>
        <Outcome model={model} />
      </div>
    </div>
  )
}

function StoredPicker({ model, kept }: { model: SpectrumModel; kept: readonly StoredResponse[] }) {
  return (
    <SelectField
      label="Instrument"
      of={[
        ['', 'New, from a reference’s spectrum'],
        ...kept.map(({ item }) => [item.id, `${item.name}, ${showDay(item.date.iso)}`] as const),
      ]}
      value={model.storedResponse.value ?? ''}
      onValue={(id) => model.useStored(id || null)}
    />
  )
}

/** Further references of the same instrument. */
function MoreReferences({
  model,
  kept,
}: {
  model: SpectrumModel
  kept: readonly StoredResponse[]
}) {
  const { moreResponses, inUse } = model
  const offered = kept.filter(({ item }) => item.id !== inUse.value?.id)
  if (offered.length === 0) return null
  return (
    <fieldset class="stack">
      <legend>{REFERENCE_WORDS.several}</legend>
      {offered.map(({ item }) => (
        <label class="choice" key={item.id}>
          <input
            type="checkbox"
            checked={moreResponses.value.includes(item.id)}
            onChange={(event) => {
              const others = moreResponses.value.filter((id) => id !== item.id)
              moreResponses.value = event.currentTarget.checked ? [...others, item.id] : others
            }}
          />
          {item.name}, {showDay(item.date.iso)}
        </label>
      ))}
      <p class="small soft">{REFERENCE_WORDS.severalHint}</p>
    </fieldset>
  )
}

/** References that were recorded here before this one. */
function BesideReferences({ model }: { model: SpectrumModel }) {
  const further = model.further.value
  if (further.length === 0) return null
  return (
    <section class="card stack" aria-label={REFERENCE_WORDS.beside}>
      <h2>{REFERENCE_WORDS.beside}</h2>
      {further.map(({ id, response }) => (
        <div class="row" key={id}>
          <span class="grow">{referenceWords(response.lamp)}</span>
          <button type="button" onClick={() => model.takeOut(id)}>
            {REFERENCE_WORDS.takeOut}
          </button>
        </div>
      ))}
      <p class="small soft">{REFERENCE_WORDS.severalHint}</p>
    </section>
  )
}

function StoredFacts({ chosen }: { chosen: StoredResponse }) {
  const { item } = chosen
  return (
    <details>
      <summary>{item.name}</summary>
      <div class="inside">
        <Facts rows={responseFacts(chosen)} />
        <EntryActions
          key={item.id}
          id={item.id}
          name={item.name}
          notes={{ label: RESPONSE_SETTINGS, text: item.notes }}
        />
      </div>
    </details>
  )
}

/** Nothing is there yet: practice, and how to record. */
function Beginning({ model }: { model: SpectrumModel }) {
  return (
    <>
      <button type="button" class="wide" onClick={() => void model.practice()}>
        Practice spectra (simulated)
      </button>
      <section class="stack">
        <h2>Spectra that can be read</h2>
        <ol class={`stack ${style.shooting}`}>
          {SPECTRUM_GUIDE.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
      </section>
    </>
  )
}

function Outcome({ model }: { model: SpectrumModel }) {
  const using = model.inUse.value
  const made = model.made.value
  const ownShown = model.storedResponse.value === null
  if (!using) {
    if (ownShown && made && !made.outcome.ok) {
      return <Notices notices={[spectrumRefusalNotice(made.outcome)]} />
    }
    const begun = model.imported.roles.value.lamp !== null
    return begun ? <p class="soft">{SPECTRUM_EMPTY.noLamp}</p> : null
  }
  const { response } = using
  const used = model.range.value ?? response.range
  const recording = ownShown ? made?.recording : undefined
  const isOwn = made?.id === using.id && !using.kept && response.lamp.emitter !== 'calibration'
  return (
    <>
      <PlotPanel
        of={`${using.id} ${used.fromNm} ${used.toNm}`}
        note={using.kept ? `${using.kept.name}, ${showDay(using.kept.date.iso)}` : ''}
        makers={{
          response: () => responsePlot(response, used),
          ...(recording ? { raw: () => rawPlot(recording, used) } : {}),
        }}
      />
      <RangeFields model={model} found={response.range} />
      <Notices notices={response.findings.map(spectrumNotice)} />
      {isOwn && <KeepResponse model={model} />}
      {isOwn && (
        <button type="button" class="wide" onClick={() => model.putBeside()}>
          {REFERENCE_WORDS.another}
        </button>
      )}
    </>
  )
}
