import type { Signal } from '@preact/signals'
import type { ReadingModel } from '../../session/reading/reading-model.ts'
import { RegionStage } from '../region-stage.tsx'
import { Segments } from '../segments.tsx'

const PLACINGS = [
  ['glow', 'Glow'],
  ['card', 'Grey card'],
] as const

const percent = (share: number) =>
  share === 0 ? '0 %' : share < 0.001 ? 'under 0.1 %' : `${(100 * share).toFixed(1)} %`

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
        <p class="legend small">
          <span class="key">
            <span class="mark clipped" aria-hidden="true" /> clipped
            {patch ? ` ${percent(patch.clippedShare)}` : ''}
          </span>
          <span class="key">
            <span class="mark floor" aria-hidden="true" /> no light in a channel
            {patch ? ` ${percent(Math.max(...patch.floorShare))}` : ''}
          </span>
        </p>
      </RegionStage>
    </div>
  )
}
