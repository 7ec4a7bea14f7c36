import * as v from 'valibot'
import type { LiveLine } from '../../estimate/live/live-line.ts'
import type { GlowInput } from '../../estimate/types.ts'
import type { Json } from '../../log/schema/types.ts'
import { storedGlow } from '../log/stored-glow.ts'

/** A whole estimate of one moment, kept so that a plateau can become a reference of the camera. */
export interface KeptLook {
  readonly seconds: number
  readonly lnRatio: number
  readonly temperatureK: number
  readonly input: GlowInput
}

/** What a recording's figures rest on. */
export interface RecordingDetails {
  readonly looks: readonly KeptLook[]
  /** Of the camera or the file: locks, settings, codec, colour; plain data for people. */
  readonly facts: Json
}

/** Looks that are kept at most; then every second one goes. */
const MOST_LOOKS = 60
/** Looks nearer to the last kept one than this say nothing new, K. */
const APART_K = 15

/** Gathers looks over a recording, thinly. */
export class LookKeeper {
  #looks: KeptLook[] = []
  #least = APART_K

  /** Whether it was kept. */
  add(seconds: number, { estimate, input, lnRatio }: LiveLine): boolean {
    if (estimate.kind !== 'temperature') return false
    const last = this.#looks.at(-1)
    if (last && Math.abs(last.temperatureK - estimate.temperatureK) < this.#least) return false
    this.#looks.push({ seconds, lnRatio, temperatureK: estimate.temperatureK, input })
    if (this.#looks.length > MOST_LOOKS) {
      this.#looks = this.#looks.filter((_, i) => i % 2 === 0)
      this.#least *= 2
    }
    return true
  }

  details(facts: Json): Json {
    return { looks: this.#looks, facts } as unknown as Json
  }
}

const seconds = v.pipe(v.number(), v.finite(), v.minValue(0))
const detailsShape = v.looseObject({
  looks: v.pipe(
    v.array(
      v.looseObject({
        seconds,
        lnRatio: v.pipe(v.number(), v.finite()),
        temperatureK: v.pipe(v.number(), v.finite(), v.gtValue(0)),
        input: v.any(),
      }),
    ),
    v.maxLength(MOST_LOOKS + 1),
  ),
})

/** Recordings also come from files: looks that are none are left out. */
export function storedDetails(details: Json): RecordingDetails {
  const parsed = v.safeParse(detailsShape, details)
  if (!parsed.success) return { looks: [], facts: null }
  const looks = parsed.output.looks.flatMap((look): KeptLook[] => {
    const input = storedGlow(look.input as Json)
    const { seconds: at, lnRatio, temperatureK } = look
    return input ? [{ seconds: at, lnRatio, temperatureK, input }] : []
  })
  return { looks, facts: (parsed.output as { facts?: Json }).facts ?? null }
}
