import * as v from 'valibot'
import type { Json } from '../../log/schema/types.ts'
import type { Exposure } from '../../physics/brightness.ts'

/**
 * The exposure that the details of a photo reading state. Readings also come from files: only
 * positive, finite settings are taken.
 */
const positive = v.pipe(v.number(), v.finite(), v.gtValue(0))
const details = v.object({
  photo: v.object({
    facts: v.object({ exposureSeconds: positive, iso: positive, fNumber: positive }),
  }),
})

/** Null where time, sensitivity or aperture is not stated. */
export function storedExposure(stored: Json): Exposure | null {
  const parsed = v.safeParse(details, stored)
  return parsed.success ? parsed.output.photo.facts : null
}
