import type { Log, Reading } from '../../log/schema/types.ts'
import { type PictureSize, pictureSize, sameSize } from './compare-maps.ts'
import { hasMap } from './maps-to-export.ts'

/** Newest readings that are looked at: a view is photographed again within days, not years. */
const LOOKED_AT = 60
const MOST = 6

/**
 * Readings whose kept map may show the same view: of a picture of one size, those of the same object
 * first, then the newest.
 *
 * @param simulated of the reading in hand: simulated and real light are not subtracted
 */
export async function keptMapsLike(
  log: Pick<Log, 'newest' | 'get'>,
  size: PictureSize,
  object: string,
  simulated: boolean,
): Promise<Reading[]> {
  const found: Reading[] = []
  for (const head of await log.newest(LOOKED_AT)) {
    if (head.damaged || head.kind !== 'temperature' || head.simulated !== simulated) continue
    const stored = await log.get(head.id)
    if (stored?.state !== 'sound' || !hasMap(stored.reading)) continue
    if (sameSize(pictureSize(stored.reading), size)) found.push(stored.reading)
  }
  const named = (reading: Reading) => object !== '' && reading.object === object
  return [...found.filter(named), ...found.filter((reading) => !named(reading))].slice(0, MOST)
}
