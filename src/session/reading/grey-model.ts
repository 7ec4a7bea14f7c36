import { batch, computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { GreyBalance } from '../../estimate/types.ts'
import type { CardLightId } from '../../light/card-light.ts'
import { balanceFromGrey, type GreyMeasurement } from '../../light/grey-reference.ts'
import type { Region } from '../../light/image.ts'
import { fieldRadius, type LensPlaces } from '../../light/lens-shading.ts'
import { middleRegion } from '../../light/region-geometry.ts'
import type { StoredGrey } from '../kit/stored-items.ts'
import { contentIdOf } from './content-id.ts'
import { createPhotoSlot, type PhotoSlot, saysFailure } from './photo-slot.ts'

/** Where the grey reference comes from. */
export type GreySource =
  | { readonly kind: 'none' }
  | { readonly kind: 'kept'; readonly grey: StoredGrey }
  | { readonly kind: 'this photo' }
  | { readonly kind: 'other photo' }

/** The grey reference of a reading: from the kit, in its photo, or in another photo. */
export interface GreyModel {
  readonly greySource: Signal<GreySource>
  /** The other photo of the card. */
  readonly other: PhotoSlot
  /** The region of the card, in this photo or in the other one. */
  readonly cardRegion: ReadonlySignal<Region | null>
  readonly cardLight: Signal<CardLightId>
  readonly card: ReadonlySignal<GreyMeasurement | null>
  readonly balance: ReadonlySignal<GreyBalance | null>
  /** The card was photographed in other channels (raw or not) than the glow: it does not count. */
  readonly cardOfOtherChannels: ReadonlySignal<boolean>
  /** Where glow and card lie before the lens; null where one of them lies nowhere. */
  readonly lensPlaces: ReadonlySignal<LensPlaces | null>
  /** The person has put the frame somewhere; before that nothing is said against its place. */
  readonly cardPlaced: ReadonlySignal<boolean>
  openCard(blob: Blob, name: string): Promise<void>
  /**
   * Begins with the card in the glow's photo: a frame that waits to be put on it.
   *
   * @param placed the card is known to lie there
   */
  startCardHere(region: Region, placed?: boolean): void
  /** What the glow's file holds: names a card that lies in it. */
  setGlowContent(id: string): void
  setCardRegion(region: Region): void
  /** The glow's photo goes: a card in it goes along. */
  forgetCardHere(): void
  disposeGrey(): void
}

export function createGreyModel(glow: PhotoSlot): GreyModel {
  const other = createPhotoSlot()
  const greySource = signal<GreySource>({ kind: 'none' })
  const regionHere = signal<Region | null>(null)
  const cardLight = signal<CardLightId>({ kind: 'daylight', illuminant: 'D65' })
  const card = signal<GreyMeasurement | null>(null)
  const cardPlaced = signal(false)
  /** Photos balanced with one card share its error: it goes by what is in its file. */
  let cardId = ''
  let glowContent = ''

  const cardSlot = computed(() => {
    if (greySource.value.kind === 'this photo') return glow
    return greySource.value.kind === 'other photo' ? other : null
  })
  const cardRegion = computed(() =>
    cardSlot.value === glow ? regionHere.value : (cardSlot.value?.region.value ?? null),
  )
  const cardOfOtherChannels = computed(() => {
    const mine = glow.photo.value?.channels
    const theirs = cardSlot.value?.photo.value?.channels
    return mine !== undefined && theirs !== undefined && mine !== theirs
  })

  const balance = computed<GreyBalance | null>(() => {
    const source = greySource.value
    const mine = glow.photo.value?.channels
    if (source.kind === 'kept') return source.grey.channels === mine ? source.grey.balance : null
    const measured = card.value
    if (source.kind === 'none' || !measured || measured.refused) return null
    if (cardOfOtherChannels.value || !cardPlaced.value) return null
    const channels =
      glow.photo.value?.channels ?? cardSlot.value?.photo.value?.channels ?? 'display-p3'
    const found = balanceFromGrey({ card: measured.card, light: cardLight.value, channels })
    return { id: cardId, ...found }
  })

  const lensPlaces = computed<LensPlaces | null>(() => {
    const [mine, theirs] = [glow.photo.value, cardSlot.value?.photo.value]
    const [onGlow, onCard] = [glow.region.value, cardRegion.value]
    if (!mine || !theirs || !onGlow || !onCard) return null
    return {
      glow: fieldRadius(onGlow, mine),
      card: fieldRadius(onCard, theirs),
      channels: mine.channels,
    }
  })

  // The photo drops stale answers; an answer for a photo that was put away comes to nothing.
  const stop = effect(() => {
    const slot = cardSlot.value
    const of = slot?.photo.value
    const where = cardRegion.value
    const light = cardLight.value
    if (!slot || !of || !where) return
    of.measureGrey(where, light).then(
      (found) => {
        if (slot.photo.peek() !== of) return
        card.value = found
        slot.showMarks()
      },
      (error: unknown) => {
        // The balance would be that of another place, or of another light.
        if (saysFailure(slot, of, error)) card.value = null
      },
    )
  })

  return {
    greySource,
    other,
    cardRegion,
    cardLight,
    card,
    balance,
    lensPlaces,
    cardOfOtherChannels,
    cardPlaced,
    setGlowContent(id) {
      glowContent = id
    },
    startCardHere(region, placed = false) {
      cardId = glowContent
      batch(() => {
        card.value = null
        cardPlaced.value = placed
        regionHere.value = region
        greySource.value = { kind: 'this photo' }
      })
    },
    async openCard(blob, name) {
      const [opened, content] = await Promise.all([other.open(blob, name), contentIdOf(blob)])
      if (!opened) return
      cardId = content
      batch(() => {
        card.value = null
        cardPlaced.value = true
        other.setRegion(middleRegion(opened))
        greySource.value = { kind: 'other photo' }
      })
    },
    setCardRegion(next) {
      cardPlaced.value = true
      if (greySource.peek().kind === 'other photo') other.setRegion(next)
      else regionHere.value = next
    },
    forgetCardHere() {
      if (greySource.peek().kind !== 'this photo') return
      batch(() => {
        greySource.value = { kind: 'none' }
        regionHere.value = null
        card.value = null
      })
    },
    disposeGrey() {
      stop()
      other.close()
    },
  }
}
