import { OPEN } from '../../session/carried-reading.ts'
import { saysNothing } from '../../session/reading/next-step.ts'
import { takenAtOf } from '../../session/reading/photo-meaning.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { ShareButton } from '../../ui/share-button.tsx'
import { METHOD_NAMES } from '../../ui/words/methods.ts'
import { WAYS } from '../../ui/words/ways.ts'
import style from './result.module.css'

/** From a reading to everything else; it goes along. */
export function MoreWays({ model }: { model: ReadingModel }) {
  const { now } = useServices()
  const estimate = model.estimate.value
  const photo = model.glow.photo.value
  return (
    <nav class={style.more} aria-label="Other ways">
      <a class="button" href="/chart">
        Chart
      </a>
      {WAYS.map(({ id, name }) => (
        <a
          key={id}
          class="button"
          href={id === 'check' ? `/reading/check/${OPEN}` : `/reading/${id}`}
        >
          {name}
        </a>
      ))}
      {estimate?.kind === 'temperature' && !saysNothing(estimate) && photo && (
        <ShareButton
          reading={{
            ...estimate,
            object: model.object.value.trim(),
            takenAt: takenAtOf(photo.facts, now()).iso,
            method: METHOD_NAMES[photo.channels === 'camera' ? 'raw' : 'photo'],
            simulated: model.simulatedTruthK.value !== null,
          }}
        />
      )}
    </nav>
  )
}
