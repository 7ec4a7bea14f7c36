import * as v from 'valibot'
import { UNSAID_RATE_SHARE } from '../../estimate/recording/course-by-level.ts'
import { type EstimateSample, MOST_SAMPLES } from '../../estimate/recording/estimate-sampler.ts'
import { lnRatio, seconds, temperatureK } from '../../log/schema/quantities.ts'
import type { Json } from '../../log/schema/types.ts'
import { storedGlow } from '../log/stored-glow.ts'

/** What a recording's figures rest on. */
export interface RecordingDetails {
  readonly looks: readonly EstimateSample[]
  /** Of the camera or the file: locks, settings, codec, colour; plain data for people. */
  readonly facts: Json
  /** Relative standard uncertainty of how fast the curve goes, besides that of its height. */
  readonly rateShare: number
}

/** As they are kept. */
export const detailsOf = (
  looks: readonly EstimateSample[],
  facts: Json,
  rateShare = UNSAID_RATE_SHARE,
): Json => ({ looks, facts, rateShare }) as unknown as Json

const detailsShape = v.looseObject({
  looks: v.pipe(
    v.array(
      v.looseObject({
        seconds,
        lnRatio,
        temperatureK,
        input: v.any(),
      }),
    ),
    v.maxLength(MOST_SAMPLES + 1),
  ),
  rateShare: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(1000))),
})

/** Recordings also come from files: looks that are none are left out. */
export function storedDetails(details: Json): RecordingDetails {
  const parsed = v.safeParse(detailsShape, details)
  // Of a recording that was cut off, of an earlier version, or damaged.
  const unsaid = UNSAID_RATE_SHARE
  if (!parsed.success) return { looks: [], facts: null, rateShare: unsaid }
  const looks = parsed.output.looks.flatMap((look): EstimateSample[] => {
    const input = storedGlow(look.input as Json)
    const { seconds: at, lnRatio, temperatureK } = look
    return input ? [{ seconds: at, lnRatio, temperatureK, input }] : []
  })
  const { rateShare = unsaid } = parsed.output
  return { looks, facts: (parsed.output as { facts?: Json }).facts ?? null, rateShare }
}
