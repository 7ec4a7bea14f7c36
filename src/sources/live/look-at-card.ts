import type { GreyBalance } from '../../estimate/types.ts'
import type { CardLightId } from '../../light/card-light.ts'
import { applyToneCurve, type ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import { balanceFromGrey, type GreyMeasurement, measureGrey } from '../../light/grey-reference.ts'
import type { Region, StoredImage } from '../../light/image.ts'
import { cropped } from '../../light/live/cropped.ts'
import { evenBox } from '../../light/live/frame-codes.ts'
import { frameMean } from '../../light/live/frame-mean.ts'
import { grown, pixelBox } from '../../light/region.ts'
import { toLinearLight } from '../../light/tone-response.ts'
import type { Triple } from '../../numerics/matrix3.ts'

/** Where a grey card lies in the live picture, and in which light. */
export interface CardSight {
  /** Readings balanced with one placing of the card share its error. */
  readonly id: string
  readonly region: Region
  readonly light: CardLightId
}

export interface CardLook {
  readonly measurement: GreyMeasurement
  /** Null where the card cannot be one. */
  readonly balance: GreyBalance | null
  /** Mean linear light of the card as a single frame is read, in the stream's own space. */
  readonly plain: Triple
}

/** Pixels around the card that are looked at with it. */
const MARGIN = 8

/** Measures the grey card in the same frame as the glow. */
export function lookAtCard(
  whole: StoredImage,
  { id, region, light }: CardSight,
  curve: ToneCurve | null,
): CardLook {
  const { width, height } = whole
  const box = pixelBox({ ...grown(region, MARGIN), shape: 'rectangle' }, width, height)
  const crop = cropped(whole, box)
  const inCrop = { ...region, x: region.x - box.left, y: region.y - box.top }
  const measurement = measureGrey(
    curve ? applyToneCurve(curve, crop) : toLinearLight(crop),
    inCrop,
    light,
  )
  const balance = measurement.refused
    ? null
    : { id, ...balanceFromGrey({ card: measurement.card, light }) }
  const plain = frameMean(cropped(whole, evenBox(pixelBox(region, width, height), width, height)))
  return { measurement: { ...measurement, region }, balance, plain: plain.linear }
}
