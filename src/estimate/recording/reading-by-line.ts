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

/** Which of the heights a follower has had, and how far its mean had moved in 1/T by then, 1/K. */
export interface FollowedHeight {
  readonly number: number
  readonly moved: number
}

/** Further from the last whole estimate in ln(G/R) than this there is no reading: 90 K at 1200 K. */
const REACH = 0.25
/** An estimate that differs by more than this is of other settings: another card, a curve just found. */
const OTHER = 0.15
/** Weight of each estimate in the rate, which changes with temperature: five of them make it. */
const RATE_WEIGHT = 0.2
/** Least weight of each estimate in what is uncertain in common. */
const COMMON_WEIGHT = 0.1

/**
 * Follows whole estimates over a recording. What they err by in common shifts the whole curve; but it
 * also changes with the level of the picture where the tone curve is not known, and each estimate has
 * a little noise of its own. Taken one after the other they would put steps and false slopes into the
 * curve. So one height is kept, the mean of all estimates so far, and the course comes from ln(G/R)
 * of the frames alone, by the estimates' own rate. Along Planck's locus 1/T is straight in ln(G/R)
 * (Wien), within 1 K over 60 K.
 */
export class LineFollower {
  #inverse = 0
  #rate = 0
  /** Where the line stands; NaN before the first estimate. */
  #at = Number.NaN
  #offset = 0
  #common = 0
  /** Where it was estimated last; NaN while the glow is lost. */
  #estimated = Number.NaN
  #count = 0
  #residual = 0
  #height: FollowedHeight = { number: 0, moved: 0 }

  /** @param held keeps the height of the first estimate: {@link meanResidual} says how far it is off */
  constructor(private readonly held = false) {}

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
    // A shift of ln(G/R) shifts 1/T by the same amount everywhere.
    const common = Math.sqrt(Math.max(standardUncertaintyK ** 2 - noise ** 2, 0)) * inverse ** 2
    const predicted = this.#inverse + this.#rate * (plain - this.#at)
    // A film has one curve and one camera: an estimate far off is the doubt of an unknown tone curve.
    const near = this.held || Math.abs(inverse - predicted) < OTHER * inverse
    this.#count = Number.isFinite(predicted) && near ? this.#count + 1 : 1
    const first = this.#count === 1
    const weight = 1 / this.#count
    const residual = first ? 0 : inverse - predicted
    this.#residual = first ? 0 : this.#residual + weight * (residual - this.#residual)
    this.#inverse = first ? inverse : predicted + (this.held ? 0 : weight * residual)
    const { number, moved } = this.#height
    this.#height = first
      ? { number: number + 1, moved: 0 }
      : { number, moved: moved + weight * residual }
    this.#rate += (first ? 1 : RATE_WEIGHT) * (rate - this.#rate)
    this.#offset += weight * (lnRatio - plain - this.#offset)
    // Of the latest: a balance that has begun to drift widens what follows.
    this.#common += (first ? 1 : Math.max(weight, COMMON_WEIGHT)) * (common - this.#common)
    this.#at = plain
    this.#estimated = plain
  }

  /** How far the mean of all estimates lies from the held height, in 1/T, 1/K. */
  get meanResidual(): number {
    return this.#residual
  }

  /** The height of the readings from here to the next estimate. */
  get height(): FollowedHeight {
    return this.#height
  }

  /** The glow was lost: nothing is read until the next estimate. */
  clear(): void {
    this.#estimated = Number.NaN
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

/**
 * Readings that were taken while the mean height still moved, to where it came to stand, in place: else a
 * steady heat seems to warm or cool over the first estimates. Each height by itself.
 *
 * @param heights of each reading; null in a gap
 */
export function toLastHeight(
  {
    temperatureK,
    commonK,
  }: { readonly temperatureK: Float32Array; readonly commonK: Float32Array },
  heights: readonly (FollowedHeight | null)[],
): void {
  const last = new Map(heights.flatMap((height) => (height ? [[height.number, height.moved]] : [])))
  for (const [i, height] of heights.entries()) {
    if (!height) continue
    const before = temperatureK[i]!
    const kelvin = 1 / (1 / before + last.get(height.number)! - height.moved)
    temperatureK[i] = kelvin
    commonK[i]! *= (kelvin / before) ** 2
  }
}
