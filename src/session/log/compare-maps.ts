import * as v from 'valibot'
import type { MapChangeResult } from '../../estimate/map/map-change.ts'
import { pixels } from '../../log/schema/quantities.ts'
import type { Reading } from '../../log/schema/types.ts'
import { openMapBench } from '../../sources/map/map-client.ts'
import { readingChange } from './pair-comparison.ts'
import { storedMap } from './stored-map.ts'

/** Why two kept maps cannot be subtracted, beside what their cells say. */
export type MapsRefusal =
  | { readonly kind: 'unreadable' }
  | { readonly kind: 'no figure' }
  | { readonly kind: 'other size' }

/** What two readings are subtracted by: of the log, or one in hand that is not saved yet. */
export type MappedReading = Pick<
  Reading,
  'result' | 'recomputations' | 'inputs' | 'details' | 'simulated' | 'demo' | 'object' | 'takenAt'
>

export interface PictureSize {
  readonly width: number
  readonly height: number
}

export const sizeShape = v.object({ photo: v.object({ width: pixels, height: pixels }) })

/** The pixels of the whole picture, in which a map's places are given; null where nothing says them. */
export function pictureSize({ details }: Pick<Reading, 'details'>): PictureSize | null {
  const size = v.safeParse(sizeShape, details)
  return size.success ? size.output.photo : null
}

export const sameSize = (one: PictureSize | null, two: PictureSize | null): boolean =>
  one !== null && two !== null && one.width === two.width && one.height === two.height

/**
 * The later map less the earlier one.
 *
 * @param signal ends the worker; the promise then rejects with an AbortError
 */
export async function compareMaps(
  earlier: MappedReading,
  later: MappedReading,
  signal: AbortSignal,
): Promise<MapChangeResult | MapsRefusal> {
  const [before, after] = [storedMap(earlier.details), storedMap(later.details)]
  if (!before || !after) return { kind: 'unreadable' }
  if (!sameSize(pictureSize(earlier), pictureSize(later))) return { kind: 'other size' }
  const readings = await readingChange(earlier, later)
  signal.throwIfAborted()
  if (!readings) return { kind: 'no figure' }
  const bench = openMapBench()
  const close = () => bench.close()
  signal.addEventListener('abort', close, { once: true })
  try {
    return await bench.change({ earlier: before.map, later: after.map, readings })
  } finally {
    signal.removeEventListener('abort', close)
    bench.close()
  }
}
