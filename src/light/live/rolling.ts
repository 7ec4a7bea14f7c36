import { median, robustSd } from '../../numerics/statistics.ts'

/** Frames that a reading rests on at most. */
const LENGTH = 30
/** Frames before there is a figure. */
const LEAST = 3
/** Relative swing of the light from frame to frame that is flicker rather than noise. */
const FLICKER = 0.04
/** Share of frames whose step turns back: a beat of mains and frame rate does, drift does not. */
const TURNING = 0.55
/** Standard deviation of ln R over the window from which on the glow or the hand moves. */
const MOVING = 0.12

export interface RollingValue {
  /** Median of the window. */
  readonly value: number
  /** Standard uncertainty of that median from the scatter of the frames. */
  readonly standardUncertainty: number
  readonly frames: number
  readonly motion: 'steady' | 'moving' | 'flicker'
}

/**
 * Rolling robust estimate over frames: the median of ln(G/R), and whether the light itself stands
 * still. Uncertainty of a median of n normal values: 1.253 sd / sqrt(n) (Kendall & Stuart, 1, ch. 14).
 */
export class Rolling {
  readonly #values: number[] = []
  readonly #levels: number[] = []

  /** @param value ln(G/R) of a frame @param level ln R of it */
  add(value: number, level: number): void {
    this.#values.push(value)
    this.#levels.push(level)
    if (this.#values.length > LENGTH) {
      this.#values.shift()
      this.#levels.shift()
    }
  }

  clear(): void {
    this.#values.length = 0
    this.#levels.length = 0
  }

  /** Null until there are enough frames. */
  get(): RollingValue | null {
    const frames = this.#values.length
    if (frames < LEAST) return null
    const value = median(this.#values)
    // Steps between neighbours, so that a slow change of the glow is no noise (von Neumann 1941).
    const steps = differences(this.#values)
    const sd = robustSd(steps, 0) / Math.SQRT2
    return {
      value,
      standardUncertainty: (1.253 * sd) / Math.sqrt(frames),
      frames,
      motion: this.#motion(),
    }
  }

  #motion(): RollingValue['motion'] {
    const steps = differences(this.#levels)
    const swing = Math.sqrt(steps.reduce((sum, s) => sum + s * s, 0) / Math.max(steps.length, 1))
    const turns = steps.filter((s, i) => i > 0 && s * steps[i - 1]! < 0).length
    if (swing > FLICKER && turns > TURNING * (steps.length - 1)) return 'flicker'
    return swing > FLICKER || robustSd(this.#levels) > MOVING ? 'moving' : 'steady'
  }
}

const differences = (values: readonly number[]) => values.slice(1).map((v, i) => v - values[i]!)
