import * as v from 'valibot'
import type { MapChangeResult } from '../../estimate/map/map-change.ts'
import type { Reading } from '../../log/schema/types.ts'
import { openMapBench } from '../../sources/map/map-client.ts'
import { readingChange } from './pair-comparison.ts'
import { storedMap } from './stored-map.ts'

/** Why two kept maps cannot be subtracted, beside what their cells say. */
export type MapsRefusal =
  | { readonly kind: 'unreadable' }
  | { readonly kind: 'no figure' }
  | { readonly kind: 'other size' }

/** The pixels of the whole picture, in which a map's places are given. */
const pictureSize = v.object({ photo: v.object({ width: v.number(), height: v.number() }) })

/**
 * The later map less the earlier one.
 *
 * @param signal ends the worker; the promise then rejects with an AbortError
 */
export async function compareMaps(
  earlier: Reading,
  later: Reading,
  signal: AbortSignal,
): Promise<MapChangeResult | MapsRefusal> {
  const [before, after] = [storedMap(earlier.details), storedMap(later.details)]
  if (!before || !after) return { kind: 'unreadable' }
  const sizes = [earlier, later].map(({ details }) => v.safeParse(pictureSize, details))
  const [one, two] = sizes.map((size) => (size.success ? size.output.photo : null))
  if (!one || !two || one.width !== two.width || one.height !== two.height)
    return { kind: 'other size' }
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
