import { useEffect } from 'preact/hooks'
import { useServices } from '../../session/services.ts'
import type { SpectrumModel } from '../../session/spectrum/model-types.ts'
import type { Step } from '../../session/spectrum/pick-roles.ts'
import { openSpectrum } from '../../session/spectrum/spectrum-draft.ts'
import { takeSharedFiles } from '../../sources/shared-files.ts'
import { Segments } from '../../ui/segments.tsx'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'
import { SPECTRUM_STEPS } from '../../ui/words/spectrum.ts'
import { GlowStep } from './glow-step.tsx'
import { InstrumentStep } from './instrument-step.tsx'
import { SaveSpectrum } from './save-spectrum.tsx'
import style from './spectrum-screen.module.css'

const STEPS = Object.entries(SPECTRUM_STEPS) as [Step, string][]

/** Temperature from the shape of a spectrum: first the instrument's response, then the glow. */
export function SpectrumScreen() {
  const { kit } = useServices()
  const model = openSpectrum(kit)
  useEffect(() => {
    void takeSharedFiles('spectrum').then((files) => {
      if (files.length > 0) return model.takeShared(files)
    })
  }, [model])
  const step = model.step.value
  const begun = model.imported.files.value.length > 0
  return (
    <main class="screen broad">
      <header class={style.header}>
        {!begun && (
          <a class="button" href="/">
            Back
          </a>
        )}
        <h1>Spectrum</h1>
        {model.simulated.value && <span class="tag">{PRACTICE_LABEL}</span>}
        {begun && (
          <button type="button" class={style.startOver} onClick={model.clear}>
            Start over
          </button>
        )}
      </header>
      <Segments
        of={STEPS}
        chosen={step}
        onChoose={(one) => {
          model.step.value = one
        }}
      />
      {step === 'instrument' ? <InstrumentStep model={model} /> : <GlowStep model={model} />}
      {step === 'instrument' ? <NextDock model={model} /> : <SaveSpectrum model={model} />}
    </main>
  )
}

function NextDock({ model }: { model: SpectrumModel }) {
  if (!model.inUse.value && model.lamp.emitter.value !== 'calibration') return null
  return (
    <div class="dock">
      <button
        type="button"
        class="primary wide"
        onClick={() => {
          model.step.value = 'glow'
          scrollTo(0, 0)
        }}
      >
        On to the glow
      </button>
    </div>
  )
}
