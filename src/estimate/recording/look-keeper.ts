import type { LiveLine } from '../live/live-line.ts'
import type { GlowInput } from '../types.ts'

/** A whole estimate of one moment, kept so that a plateau can become a reference of the camera. */
export interface KeptLook {
  readonly seconds: number
  readonly lnRatio: number
  readonly temperatureK: number
  readonly input: GlowInput
}

/** Looks that are kept at most; then every second one goes. */
export const MOST_LOOKS = 60
/** Looks nearer to the last kept one than this say nothing new, K. */
const APART_K = 15

/** Gathers looks over a recording, thinly. */
export class LookKeeper {
  #looks: KeptLook[] = []
  #least = APART_K

  get looks(): readonly KeptLook[] {
    return this.#looks
  }

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
}
