import type { LiveLine } from '../live/live-line.ts'

/** A reading of a recording, with its two kinds of uncertainty apart. */
export interface LineReading {
  readonly temperatureK: number
  /** Standard uncertainties, K. */
  readonly noiseK: number
  readonly commonK: number
  /** ln(G/R) as the whole estimate takes it. */
  readonly lnRatio: number
}

/** Further from the last whole estimate in ln(G/R) than this there is no reading: 90 K at 1200 K. */
const REACH = 0.25
/** Weight of each new estimate: some ten of them make the curve's height. */
const WEIGHT = 0.1
/** An estimate that differs by more than this is of another glow, or of other settings. */
const OTHER = 0.05

/**
 * Follows whole estimates over a recording. Each has a little noise of its own, common to all frames
 * until the next; taken one after the other they would make steps in the curve. So they are averaged,
 * as a line in 1/T over the ln(G/R) of plain frame means: along Planck's locus it is straight (Wien),
 * within 1 K over 60 K.
 */
export class LineFollower {
  #inverse = 0
  #rate = 0
  #at = Number.NaN
  #offset = 0
  #common = 0
  #estimated = Number.NaN

  /**
   * @param line a whole estimate
   * @param plain ln(G/R) of plain frame means at which it was made
   */
  follow({ estimate, lnRatio, slopeK }: LiveLine, plain: number): void {
    if (estimate.kind !== 'temperature' || slopeK === null) {
      this.clear()
      return
    }
    const { temperatureK, standardUncertaintyK, budget } = estimate
    const noise = budget.find(({ term }) => term === 'pixel noise')?.standardUncertaintyK ?? 0
    const inverse = 1 / temperatureK
    const rate = -slopeK * inverse * inverse
    // Relative and over T: a shift of ln(G/R) shifts 1/T by the same amount everywhere.
    const common = Math.sqrt(Math.max(standardUncertaintyK ** 2 - noise ** 2, 0)) * inverse ** 2
    const offset = lnRatio - plain
    const predicted = this.#inverse + this.#rate * (plain - this.#at)
    const near = Math.abs(inverse - predicted) < OTHER * inverse
    const weight = Number.isFinite(predicted) && near ? WEIGHT : 1
    const before = weight === 1 ? inverse : predicted
    this.#inverse = before + weight * (inverse - before)
    this.#rate += weight * (rate - this.#rate)
    this.#offset += weight * (offset - this.#offset)
    this.#common += weight * (common - this.#common)
    this.#at = plain
    this.#estimated = plain
  }

  /** The glow was lost. */
  clear(): void {
    this.#at = Number.NaN
  }

  /**
   * @param plain ln(G/R) of plain frame means
   * @param lnNoise its standard uncertainty by noise alone
   * @returns null without an estimate near by
   */
  read(plain: number, lnNoise: number): LineReading | null {
    if (!(Math.abs(plain - this.#estimated) <= REACH)) return null
    const inverse = this.#inverse + this.#rate * (plain - this.#at)
    if (!(inverse > 0)) return null
    const temperatureK = 1 / inverse
    return {
      temperatureK,
      noiseK: Math.abs(this.#rate) * temperatureK ** 2 * lnNoise,
      commonK: this.#common * temperatureK ** 2,
      lnRatio: plain + this.#offset,
    }
  }
}
