import type { CardLightId } from '../../light/card-light.ts'
import type { Region } from '../../light/image.ts'
import { middleRegion, moveBy, scaleBy } from '../../light/region-geometry.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import type { CardPlace } from '../kit/camera-data.ts'

/** The lamp that lights the card where the camera cannot be locked; see CardLightPicker. */
export const LAMP_ON_CARD: CardLightId = {
  kind: 'filament',
  colourTemperatureK: 2700,
  standardUncertaintyK: 100,
}

/** Where a card is first looked for. Small: the frame must not reach over the card's edge. */
export const firstCardFrame = (of: Photo): Region => scaleBy(middleRegion(of), 0.35, 0.35, of)

type Size = Pick<Photo, 'width' | 'height'>

/** A frame as shares of its picture, which later pictures of another size have in common. */
export const placeIn = ({ width, height }: Size, region: Region): CardPlace => ({
  x: region.x / width,
  y: region.y / height,
  width: region.width / width,
  height: region.height / height,
})

/** The inverse of {@link placeIn}. */
export const frameAt = ({ width, height }: Size, place: CardPlace): Region => ({
  shape: 'rectangle',
  x: place.x * width,
  y: place.y * height,
  width: place.width * width,
  height: place.height * height,
})

/** The middle of a place: off the card's edges. */
export const middleOf = (of: Size, { x, y, width, height }: CardPlace): Region =>
  frameAt(of, {
    x: x + 0.25 * width,
    y: y + 0.25 * height,
    width: 0.5 * width,
    height: 0.5 * height,
  })

/** Steps away from where the card lay, in sizes of its frame: nearest first. */
const AROUND = [0, 0.5, -0.5, 1, -1] as const

/** The place near the remembered one where a card can be measured without fault; null for none. */
export async function findCard(of: Photo, region: Region): Promise<Region | null> {
  const places = AROUND.flatMap((dx) => AROUND.map((dy) => ({ dx, dy }))).sort(
    (a, b) => Math.hypot(a.dx, a.dy) - Math.hypot(b.dx, b.dy),
  )
  for (const { dx, dy } of places) {
    const there = moveBy(region, dx * region.width, dy * region.height, of)
    try {
      const found = await of.measureGrey(there, LAMP_ON_CARD)
      if (!found.refused && found.findings.length === 0) return there
    } catch {
      // The frame was moved by hand, or the photo put away.
      return null
    }
  }
  return null
}
