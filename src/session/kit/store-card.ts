/** Keeps the grey card of a reading in the kit. */
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, Log } from '../../log/schema/types.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import type { GreyModel } from '../reading/grey-model.ts'
import { cameraIdOf } from '../reading/photo-meaning.ts'
import type { PhotoSlot } from '../reading/photo-slot.ts'
import type { ReadingModel } from '../reading/reading-model-type.ts'
import type { StoredGrey } from './stored-items.ts'

/** A card that was measured, and what it was photographed for. */
export interface MeasuredCard extends GreyModel {
  /** The photo that the card may lie in. */
  readonly glow: PhotoSlot
  readonly balanceKind: string
  /** Of the reading's photo, for a card whose file does not name its camera. */
  readonly facts: PhotoFacts | null
  readonly simulated: boolean
}

export const cardOfReading = (model: ReadingModel): MeasuredCard => ({
  ...model,
  balanceKind: model.choices.peek().balanceState.kind,
  facts: model.glow.photo.peek()?.facts ?? null,
  simulated: model.simulatedTruthK.peek() !== null,
})

/**
 * Stores the card that the reading uses; the same photo is stored once.
 *
 * @returns the stored card, in use from then on; null where there is none to be stored
 * @throws LogError
 */
export async function storeCard(
  { kit }: Log,
  model: MeasuredCard,
  stored: readonly StoredGrey[],
  name: string,
  now: Date,
): Promise<StoredGrey | null> {
  const balance = model.balance.peek()
  const card = model.card.peek()
  const source = model.greySource.peek()
  const slot = source.kind === 'other photo' ? model.other : model.glow
  const photo = slot.photo.peek()
  if (source.kind === 'kept' || !balance || !card || !photo) return null
  const same = stored.find((grey) => grey.balance.id === balance.id)
  if (same) {
    model.greySource.value = { kind: 'kept', grey: same }
    return same
  }
  const { balanceKind } = model
  // The card is of the camera that the reading is of; a file without a name takes the reading's.
  const facts = photo.facts.model === null ? (model.facts ?? photo.facts) : photo.facts
  const cameraId = cameraIdOf(facts)
  const date = momentOf(now, deviceZone())
  const item = await kit.add({
    kind: 'grey reference',
    name: name.trim() || 'Grey card',
    date,
    cameraId,
    balanceState: balanceKind,
    simulated: model.simulated,
    data: {
      balance,
      card,
      light: model.cardLight.peek(),
      channels: photo.channels,
      contentId: balance.id,
    } as unknown as Json,
  })
  const grey: StoredGrey = {
    id: item.id,
    name: item.name,
    balance,
    channels: photo.channels,
    cameraId,
    balanceKind,
    takenAt: date.iso,
  }
  model.greySource.value = { kind: 'kept', grey }
  return grey
}
