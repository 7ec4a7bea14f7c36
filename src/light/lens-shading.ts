/**
 * How differently a lens colours two places of a picture. Light falls off towards the corners, and rays
 * that come in at a slant pass filters and pixels otherwise; cameras correct for it in the pictures that
 * they draw, raw pixels keep it. What is left of ln(G/R) between middle and corner is common practice.
 */
import type { FlatField } from './flat-field.ts'
import type { Channels, Region } from './image.ts'

/** ln(G/R) from the middle to the corner, with the square of the distance. */
const TO_CORNER: Readonly<Record<Channels, number>> = { 'display-p3': 0.02, camera: 0.05 }

/** Worth saying: 2 K at 1173 K. */
export const FAR_APART = 0.006

/** Distance of a region from the middle of its picture over half of the diagonal, 0..1. */
export function fieldRadius(
  region: Region,
  { width, height }: { readonly width: number; readonly height: number },
): number {
  const fromMiddle = Math.hypot(
    region.x + region.width / 2 - width / 2,
    region.y + region.height / 2 - height / 2,
  )
  return Math.min(fromMiddle / (Math.hypot(width, height) / 2), 1)
}

/**
 * Standard uncertainty of ln(G/R) of one place against another.
 *
 * @param a distance from the middle, see {@link fieldRadius}; likewise b
 * @example
 * lensShading(0, 0.5, 'display-p3') // 0.005
 */
export const lensShading = (a: number, b: number, channels: Channels): number =>
  TO_CORNER[channels] * Math.abs(a * a - b * b)

/** Two places of a picture, or of two by one lens: see {@link fieldRadius}. */
export interface LensPlaces {
  readonly glow: number
  readonly card: number
  readonly channels: Channels
}

/** What the lens makes of the card's place against the glow's. */
export interface LensDifference {
  /** ln(G/R) and ln(B/R) of the card's place less those of the glow's. */
  readonly green: number
  readonly blue: number
  /** Standard uncertainty of the first; of the second twice as much. */
  readonly uncertainty: number
}

/** @param field found with this lens in these channels; null: none is known */
export function lensDifference(
  { glow, card, channels }: LensPlaces,
  field: FlatField | null,
): LensDifference {
  const apart = card * card - glow * glow
  if (!field) return { green: 0, blue: 0, uncertainty: lensShading(glow, card, channels) }
  return {
    green: field.green * apart,
    blue: field.blue * apart,
    uncertainty: field.uncertainty * Math.abs(apart),
  }
}
