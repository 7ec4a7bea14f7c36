import { planSweep } from '../../light/exposure-sweep/plan-sweep.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { FileButton, PHOTO_TYPES } from '../file-button.tsx'
import { shutterWords, stopsWords } from '../words/shutter.ts'
import style from './sweep.module.css'

/** Which exposures a sweep of this glow wants, by the photo that is open. */
export function SweepPlanList({ model }: { model: ReadingModel }) {
  const photo = model.glow.photo.value
  const measured = model.measurement.value
  if (!photo || !measured || photo.channels === 'camera') return null
  const clipped = measured.findings.some(({ code }) => code === 'clipped')
  const { seconds, stops } = planSweep(measured.storedLevels, clipped, photo.facts.exposureSeconds)
  const shown = seconds ? seconds.map(shutterWords) : stops.map(stopsWords)
  return (
    <>
      <p class="soft">
        {seconds
          ? 'Same ISO and aperture as this photo. Shutter times, the first once more at the end:'
          : 'Stops brighter (+) or darker than this photo, the first once more at the end:'}
      </p>
      <ol class={style.plan}>
        {shown.map((words, i) => (
          // The first exposure comes twice.
          <li key={`${words} ${i === shown.length - 1}`}>{words}</li>
        ))}
      </ol>
    </>
  )
}

/** More photos of the same glow: they join the open ones. */
export function AddPhotos({ model, primary = false }: { model: ReadingModel; primary?: boolean }) {
  return (
    <FileButton
      multiple
      primary={primary}
      accept={PHOTO_TYPES}
      onFiles={(files) => void model.addPhotos(files)}
    >
      Add photos
    </FileButton>
  )
}

/** From one photo to a sweep of its glow, where nothing else says what its tone curve is. */
export function SweepFromHere({ model }: { model: ReadingModel }) {
  const single = !model.sweep.value && !model.pair.value && model.curve.value === null
  const simulated = model.simulatedTruthK.value !== null
  if (!single || simulated || model.glow.photo.value?.channels === 'camera') return null
  return (
    <details>
      <summary>Sweep this glow: which exposures</summary>
      <div class="inside stack">
        <SweepPlanList model={model} />
        <AddPhotos model={model} />
      </div>
    </details>
  )
}
