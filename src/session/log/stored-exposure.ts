import * as v from 'valibot'
import { exposureSeconds, fNumber, iso } from '../../log/schema/quantities.ts'
import type { Json } from '../../log/schema/types.ts'
import type { Exposure } from '../../physics/brightness.ts'

/**
 * The exposure that the details of a photo reading state. Readings also come from files: settings
 * that no camera has are not taken.
 */
export const exposureShape = v.object({
  photo: v.object({
    facts: v.object({ exposureSeconds, iso, fNumber }),
  }),
})

/** Null where time, sensitivity or aperture is not stated. */
export function storedExposure(stored: Json): Exposure | null {
  const parsed = v.safeParse(exposureShape, stored)
  return parsed.success ? parsed.output.photo.facts : null
}
