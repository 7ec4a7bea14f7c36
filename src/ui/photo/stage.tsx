import type { Signal } from '@preact/signals'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { GlossaryTerm } from '../glossary-term.tsx'
import { RegionStage } from '../region-stage.tsx'
import { Segments } from '../segments.tsx'
import css from './stage.module.css'

const PLACINGS = [
  ['glow', 'Glow'],
  ['card', 'Grey card'],
] as const

const percent = (share: number) => `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`
/** Shares of the region's pixels: a few marked ones mean nothing, many are worth their number. */
const WORTH_A_WORD = 0.001
const WORTH_A_NUMBER = 0.02

/** The photo with the region that is being placed, and what its marks mean. */
export function Stage({
  model,
  placing,
}: {
  model: ReadingModel
  placing: Signal<'glow' | 'card'>
}) {
  const source = model.greySource.value
  const placesCard = source.kind === 'this photo' || source.kind === 'other photo'
  const onCard = placesCard && placing.value === 'card'
  const slot = onCard && source.kind === 'other photo' ? model.other : model.glow
  const photo = slot.photo.value
  const region = onCard ? model.cardRegion.value : model.glow.region.value
  if (!photo || !region) return null
  const other =
    source.kind === 'this photo'
      ? onCard
        ? model.glow.region.value
        : model.cardRegion.value
      : null
  const patch = onCard ? model.card.value?.patch : model.measurement.value?.patch
  const clipped = patch?.clippedShare ?? 0
  const dark = patch ? Math.max(...patch.floorShare) : 0
  return (
    <div class="stack">
      {placesCard && (
        <Segments
          of={PLACINGS}
          chosen={onCard ? 'card' : 'glow'}
          onChoose={(what) => {
            placing.value = what
          }}
        />
      )}
      {onCard && (source.kind === 'other photo' || !model.cardPlaced.value) && (
        <p class="small">Tap the card, then fit the frame inside it.</p>
      )}
      <RegionStage
        pictureUrl={photo.pictureUrl}
        marksUrl={slot.marksUrl.value}
        photo={photo}
        region={region}
        other={other}
        label={onCard ? 'Grey card region' : 'Glow region'}
        onRegion={onCard ? model.setCardRegion : model.glow.setRegion}
      >
        <p class={`small ${css.legend}`}>
          {clipped > WORTH_A_WORD && (
            <span class={css.key}>
              <span class={`${css.mark} ${css.clipped}`} aria-hidden="true" />
              <span>
                <GlossaryTerm of="clipped">clipped</GlossaryTerm>
                {clipped > WORTH_A_NUMBER && ` ${percent(clipped)}`}
              </span>
            </span>
          )}
          {dark > WORTH_A_WORD && (
            <span class={css.key}>
              <span class={`${css.mark} ${css.floor}`} aria-hidden="true" /> no light in a channel
              {dark > WORTH_A_NUMBER && ` ${percent(dark)}`}
            </span>
          )}
        </p>
      </RegionStage>
    </div>
  )
}
