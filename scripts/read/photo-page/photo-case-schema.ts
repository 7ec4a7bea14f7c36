import * as v from 'valibot'
import { knownHeatId, surfaceId } from '../case-names.ts'

const positive = v.pipe(v.number(), v.finite(), v.gtValue(0))
const surface = v.union([
  surfaceId,
  v.object({
    lnGreenOverRed: v.pipe(v.number(), v.finite()),
    standardUncertainty: v.pipe(v.number(), v.finite(), v.minValue(0)),
  }),
])
/** One file is a photo, more are a sweep. */
const glow = v.pipe(v.array(v.string()), v.minLength(1))

export const photoCase = v.object({
  glow,
  raw: v.optional(v.string()),
  card: v.optional(
    v.object({
      file: v.string(),
      light: v.union([v.literal('daylight'), v.object({ kelvin: positive })]),
    }),
  ),
  knownHeats: v.optional(
    v.array(v.object({ id: knownHeatId, glow, surface: v.optional(surface) })),
  ),
  surface,
  whiteBalance: v.picklist(['daylight', 'lamp', 'automatic', 'unknown']),
  camera: v.optional(v.string()),
})
export type PhotoCase = v.InferOutput<typeof photoCase>
