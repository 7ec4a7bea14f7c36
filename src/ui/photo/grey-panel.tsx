import type { Signal } from '@preact/signals'
import { FAR_APART, lensDifference } from '../../light/lens-shading.ts'
import type { StoredGrey } from '../../session/kit/stored-items.ts'
import { firstCardFrame } from '../../session/reading/find-card.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { CardLightPicker } from '../card-light-picker.tsx'
import { FileButton, PHOTO_TYPES } from '../file-button.tsx'
import { Notices } from '../notices.tsx'
import { SelectField } from '../select-field.tsx'
import {
  cardFarNotice,
  cardMovedNotice,
  greyNotice,
  OTHER_CHANNELS,
} from '../words/grey-findings.ts'
import { KeepGrey } from './store-grey.tsx'

/** The grey reference: from the kit, in this photo, or in another photo. */
export function GreyPanel({
  model,
  placing,
  kept,
}: {
  model: ReadingModel
  placing: Signal<'glow' | 'card'>
  kept: readonly StoredGrey[]
}) {
  const source = model.greySource.value
  const channels = model.glow.photo.value?.channels
  const fitting = kept.filter((grey) => grey.channels === channels)
  const card = model.card.value
  const choose = (value: string) => {
    if (value === 'none') model.greySource.value = { kind: 'none' }
    else if (value === 'this photo') {
      const photo = model.glow.photo.value
      if (photo) model.startCardHere(firstCardFrame(photo))
      placing.value = 'card'
    } else if (value !== 'other photo') {
      const grey = fitting.find(({ id }) => id === value)
      if (grey) model.greySource.value = { kind: 'kept', grey }
    }
  }
  const placed = source.kind === 'this photo' || source.kind === 'other photo'
  return (
    <section class="stack">
      <SelectField
        label="Grey card"
        of={[
          ['none', 'None'],
          ['this photo', 'In this photo'],
          ...(source.kind === 'other photo' ? [['other photo', 'In another photo'] as const] : []),
          ...fitting.map(({ id, name }) => [id, name] as const),
        ]}
        value={source.kind === 'kept' ? source.grey.id : source.kind}
        onValue={choose}
      />
      {!placed && (
        <FileButton
          accept={PHOTO_TYPES}
          onFiles={([file]) => {
            if (!file) return
            placing.value = 'card'
            void model.openCard(file, file.name)
          }}
        >
          Open a photo of the card
        </FileButton>
      )}
      {placed && (
        <>
          <CardLightPicker
            light={model.cardLight.value}
            onLight={(light) => {
              model.cardLight.value = light
            }}
          />
          {card && model.cardPlaced.value && <Notices notices={card.findings.map(greyNotice)} />}
          {model.balance.value && <CardFar model={model} />}
          {model.cardOfOtherChannels.value && <Notices notices={[OTHER_CHANNELS]} />}
          {card && !card.refused && <KeepGrey model={model} />}
        </>
      )}
    </section>
  )
}

function CardFar({ model }: { model: ReadingModel }) {
  const places = model.lensPlaces.value
  const field = model.stored.value?.flatField ?? null
  const lens = places && lensDifference(places, field)
  if (!lens || Math.hypot(lens.uncertainty, lens.green) <= FAR_APART) return null
  return <Notices notices={[field ? cardMovedNotice(lens) : cardFarNotice(lens.uncertainty)]} />
}
