/** What the kit holds of a photo's camera, and what a reload brought back, put into the choices. */
import { batch, type ReadonlySignal, type Signal } from '@preact/signals'
import type { GreyBalance } from '../../estimate/types.ts'
import { type LensDifference, lensDifference } from '../../light/lens-shading.ts'
import { diagonal, type Triple } from '../../numerics/matrix3.ts'
import { addMatrices } from '../../numerics/statistics.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { flatFieldFor, profileOf } from '../kit/camera-profile.ts'
import { findCard, frameAt, LAMP_ON_CARD } from './find-card.ts'
import type { Choices } from './glow-input.ts'
import type { GreyModel } from './grey-model.ts'
import type { PhotoSlot } from './photo-slot.ts'
import type { RawPairModel } from './raw-pair-model.ts'
import type { ReadingNotes } from './reading-draft.ts'
import type { KitOfReading } from './reading-model-type.ts'
import {
  cardHeld,
  cardMoved,
  cardUndecided,
  type StoredForPhoto,
  storedForPhoto,
} from './stored-for-photo.ts'

/** What of a reading is set. */
export interface AppliedTo {
  readonly kit: KitOfReading
  readonly glow: PhotoSlot
  readonly grey: GreyModel
  readonly choices: Signal<Choices>
  readonly object: Signal<string>
  readonly device: ReadonlySignal<string>
  readonly simulatedTruthK: ReadonlySignal<number | null>
  /** Whether the surface that is usual with a camera is taken for this photo too. */
  readonly takesUsual: boolean
}

/** What the simulated scene is made of: the one surface that is known beforehand. */
const SIMULATED_SURFACE = 'steel-oxidised'

/** What the kit holds for the open photo, held against a card that is photographed today. */
export function storedPieces(
  kit: KitOfReading,
  glow: PhotoSlot,
  grey: GreyModel,
  device: string,
): StoredForPhoto | null {
  const of = glow.photo.value
  if (!of || kit.state.value === 'reading') return null
  const profile = profileOf(device, kit)
  const flatField = flatFieldFor(profile, of)
  const found = { ...storedForPhoto(of, profile), ...(flatField && { flatField }) }
  const mine = grey.balance.value
  if (grey.greySource.value.kind === 'kept' || !mine || !found.card) return found
  const now = { balance: mine, channels: of.channels }
  const moved = cardMoved(now, found.card)
  if (moved) return { ...found, contradictions: [...found.contradictions, moved] }
  if (cardHeld(now, found.card)) return { ...found, heldSince: found.card.name }
  const undecided = cardUndecided(now, found.card)
  return undecided ? { ...found, undecided } : found
}

/**
 * The balance of a reading, without a card that which the raw picture of the shot gives. A card that
 * agrees with the stored one stands in the same light: what is not known of that light is one error of
 * both.
 */
export function balanceInUse(
  { balance, greySource, lensPlaces }: Pick<GreyModel, 'balance' | 'greySource' | 'lensPlaces'>,
  found: StoredForPhoto | null,
  pair: Pick<RawPairModel, 'id' | 'result'> | null = null,
): GreyBalance | null {
  const mine = balance.value
  const shot = pair?.result.value
  if (!mine && pair && shot?.kind === 'measured' && shot.balance)
    return { id: pair.id, ...shot.balance, samePicture: true }
  if (!mine) return null
  const places = lensPlaces.value
  const lens = places && lensDifference(places, found?.flatField ?? null)
  return {
    ...mine,
    ...(lens && {
      logGains: movedBy(mine.logGains, lens),
      covariance: addMatrices(mine.covariance, byShading(lens.uncertainty)),
    }),
    ...(greySource.value.kind === 'this photo' && { samePicture: true }),
    ...(found?.heldSince !== undefined && found.card && { id: found.card.balance.id }),
  }
}

/** The gains that the card would give in the glow's place. */
const movedBy = ([red, green, blue]: Triple, lens: LensDifference): Triple => [
  red,
  green + lens.green,
  blue + lens.blue,
]

/** Covariance of the gains by the lens; of blue twice as much. */
const byShading = (sd: number) => diagonal([0, sd ** 2, (2 * sd) ** 2])

/** The choices of a photo whose lock two cards have shown to hold, unless the person says otherwise. */
export function withHeldLock(choices: Choices, found: StoredForPhoto | null): Choices {
  const { balanceState } = choices
  if (found?.heldSince === undefined || balanceState.lock !== undefined) return choices
  return { ...choices, balanceState: { ...balanceState, lock: 'verified' } }
}

/** Once, when a photo is opened; what the person says afterwards stands. */
export function applyStored(
  parts: AppliedTo,
  found: StoredForPhoto,
  notes: ReadingNotes | null,
): void {
  const { glow, grey, choices, object, simulatedTruthK, takesUsual } = parts
  const of = glow.photo.peek()
  if (!of) return
  batch(() => {
    const usual = takesUsual ? found.usual : null
    const surface =
      usual && choices.peek().materialId === ''
        ? { materialId: usual.materialId, cover: usual.cover }
        : {}
    if (simulatedTruthK.peek() !== null && choices.peek().materialId === '') {
      choices.value = { ...choices.peek(), materialId: SIMULATED_SURFACE }
    }
    const balanceState = found.balanceState ?? choices.peek().balanceState
    choices.value = { ...choices.peek(), ...surface, balanceState }
    if (usual && object.peek() === '') object.value = usual.object
    if (found.card && grey.greySource.peek().kind === 'none') {
      grey.greySource.value = { kind: 'kept', grey: found.card }
    }
    if (found.cardInPicture && grey.greySource.peek().kind === 'none') placeCard(parts, of)
    if (notes) resumeNotes(parts, notes)
  })
}

/** The card lies where it lay in the camera's last picture, or near by; the person may move it. */
function placeCard({ kit, glow, grey, device }: AppliedTo, of: Photo) {
  const place = profileOf(device.peek(), kit).stored?.data.cardPlace
  if (!place) return
  const region = frameAt(of, place)
  grey.cardLight.value = LAMP_ON_CARD
  grey.startCardHere(region, true)
  void findCard(of, region).then((found) => {
    if (found && glow.photo.peek() === of) grey.setCardRegion(found)
  })
}

function resumeNotes({ kit, glow, grey, choices, object }: AppliedTo, notes: ReadingNotes) {
  choices.value = notes.choices
  grey.cardLight.value = notes.cardLight
  object.value = notes.object ?? object.peek()
  if (notes.region) glow.setRegion(notes.region)
  if (notes.cardRegionHere) {
    grey.startCardHere(notes.cardRegionHere)
    grey.setCardRegion(notes.cardRegionHere)
    return
  }
  if (notes.greyId === undefined) return
  const kept = kit.greys.peek().find(({ id }) => id === notes.greyId)
  if (kept) grey.greySource.value = { kind: 'kept', grey: kept }
  else if (notes.greyId === null) grey.greySource.value = { kind: 'none' }
}
