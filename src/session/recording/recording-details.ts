import * as v from 'valibot'
import { UNSAID_RATE_SHARE } from '../../estimate/recording/course-by-level.ts'
import { type EstimateSample, MOST_SAMPLES } from '../../estimate/recording/estimate-sampler.ts'
import type { StandingHeat } from '../../estimate/recording/set-by-heats.ts'
import {
  lnRatio,
  seconds,
  temperatureK,
  uncertaintyK,
  within,
} from '../../log/schema/quantities.ts'
import type { Json } from '../../log/schema/types.ts'
import { storedGlow } from '../log/stored-glow.ts'

/** A heat that stood in a recording and set its scale. */
export interface SetHeat extends StandingHeat {
  readonly name: string
}

/** What a recording's figures rest on. */
export interface RecordingDetails {
  readonly looks: readonly EstimateSample[]
  /** Of the camera or the file: locks, settings, codec, colour; plain data for people. */
  readonly facts: Json
  /** Relative standard uncertainty of how fast the curve goes, besides that of its height. */
  readonly rateShare: number
  /** What its scale was set by; none for most. */
  readonly heats: readonly SetHeat[]
}

/** As they are kept. */
export const detailsOf = (
  looks: readonly EstimateSample[],
  facts: Json,
  rateShare = UNSAID_RATE_SHARE,
  heats: readonly SetHeat[] = [],
): Json => ({ looks, facts, rateShare, heats }) as unknown as Json

export const recordingDetailsShape = v.looseObject({
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
  rateShare: v.optional(within(0, 1000)),
  heats: v.optional(
    v.pipe(
      v.array(
        v.object({
          seconds,
          readK: temperatureK,
          temperatureK,
          standardUncertaintyK: uncertaintyK,
          name: v.pipe(v.string(), v.maxLength(200)),
        }),
      ),
      v.maxLength(10),
    ),
  ),
})

/** Recordings also come from files: looks that are none are left out. */
export function storedDetails(details: Json): RecordingDetails {
  const parsed = v.safeParse(recordingDetailsShape, details)
  // Of a recording that was cut off, of an earlier version, or damaged.
  const unsaid = UNSAID_RATE_SHARE
  if (!parsed.success) return { looks: [], facts: null, rateShare: unsaid, heats: [] }
  const looks = parsed.output.looks.flatMap((look): EstimateSample[] => {
    const input = storedGlow(look.input as Json)
    const { seconds: at, lnRatio, temperatureK } = look
    return input ? [{ seconds: at, lnRatio, temperatureK, input }] : []
  })
  const { rateShare = unsaid, heats = [] } = parsed.output
  return { looks, facts: (parsed.output as { facts?: Json }).facts ?? null, rateShare, heats }
}
