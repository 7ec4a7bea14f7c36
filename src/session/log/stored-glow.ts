import * as v from 'valibot'
import type { GlowInput } from '../../estimate/types.ts'
import { light, lnSlope, lnUncertainty, pixels, share } from '../../log/schema/quantities.ts'
import type { Json } from '../../log/schema/types.ts'
import {
  balanceState,
  channels,
  greyBalance,
  leakTests,
  linearColour,
  linearity,
  matrix3,
  reference,
  storedLevelConditions,
  surfaceSlope,
} from '../kit/kit-data.ts'
import { storing } from '../stored-shape.ts'

/**
 * The inputs of a glow reading as the log keeps them. Readings also come from files: what is not as
 * it should be must not reach the estimate.
 */
const name = v.pipe(v.string(), v.maxLength(400))
const slope = v.object({
  id: name,
  lnGreenOverRed: lnSlope,
  standardUncertainty: lnUncertainty,
  infrared: v.exactOptional(share),
})

export const glowShape = storing<GlowInput>()(
  v.object({
    faithfulColours: v.exactOptional(v.boolean()),
    glow: linearColour,
    channels,
    cameraToXyz: v.nullable(matrix3),
    balance: v.nullable(greyBalance),
    balanceState,
    linearity,
    quality: v.object({
      clippedShare: share,
      floorShare: v.tuple([share, share, share]),
      backgroundShare: light,
      glowWidthPixels: pixels,
      chromaSubsampled: v.boolean(),
      haloLnRatio: v.exactOptional(lnUncertainty),
    }),
    surface: surfaceSlope,
    window: v.nullable(slope),
    cameraId: name,
    takenAt: v.nullable(name),
    references: v.pipe(
      v.array(v.object({ ...reference.entries, id: name, name })),
      v.maxLength(1000),
    ),
    level: v.exactOptional(storedLevelConditions),
    leakTests: v.exactOptional(leakTests),
  }),
)

/** Null where a glow cannot be computed from it. */
export function storedGlow(inputs: Json): GlowInput | null {
  const parsed = v.safeParse(glowShape, inputs)
  return parsed.success ? parsed.output : null
}
