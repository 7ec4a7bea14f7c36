import type { CardLightId } from '../../light/card-light.ts'
import type { Region } from '../../light/image.ts'
import { moveBy } from '../../light/region-geometry.ts'
import type { Photo } from '../../sources/photo/photo.ts'

/** The lamp that lights the card where the camera cannot be locked; see CardLightPicker. */
export const LAMP_ON_CARD: CardLightId = {
  kind: 'filament',
  colourTemperatureK: 2700,
  standardUncertaintyK: 100,
}

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
