import type { LiveLine } from '../live/live-line.ts'
import type { GlowInput } from '../types.ts'

/** A whole estimate of one moment, kept so that a plateau can become a reference of the camera. */
export interface EstimateSample {
  readonly seconds: number
  readonly lnRatio: number
  readonly temperatureK: number
  readonly input: GlowInput
}

/** Samples that are kept at most; then every second one goes. */
export const MOST_SAMPLES = 60
/** Samples nearer to the last kept one than this say nothing new, K. */
const APART_K = 15

/** Gathers estimates over a recording, thinly. */
export class EstimateSampler {
  #samples: EstimateSample[] = []
  #least = APART_K

  get samples(): readonly EstimateSample[] {
    return this.#samples
  }

  /** Whether it was kept. */
  add(seconds: number, { estimate, input, lnRatio }: LiveLine): boolean {
    if (estimate.kind !== 'temperature') return false
    const last = this.#samples.at(-1)
    if (last && Math.abs(last.temperatureK - estimate.temperatureK) < this.#least) return false
    this.#samples.push({ seconds, lnRatio, temperatureK: estimate.temperatureK, input })
    if (this.#samples.length > MOST_SAMPLES) {
      this.#samples = this.#samples.filter((_, i) => i % 2 === 0)
      this.#least *= 2
    }
    return true
  }
}
