import { median } from '../../numerics/statistics.ts'

/** One frame: ln(G/R) of its plain mean, and ln of its linear red. */
export interface FrameValue {
  readonly plain: number
  readonly lnRed: number
}

export interface BinValue extends FrameValue {
  /** Standard uncertainty of plain by the scatter of the frames. */
  readonly lnNoise: number
  readonly frames: number
}

/** Memory of the running spread of the steps: some fifty frames. */
const FORGET = 0.02
/** Single frames of a camera differ at least by so much in ln(G/R): its codes are whole numbers. */
const LEAST_NOISE = 2e-4

/**
 * Frames gathered into readings: medians of those within an interval, none in two readings, so that
 * readings err independently. Their noise is that of the steps from frame to frame (von Neumann 1941),
 * pooled over some fifty, because three frames tell little of their own.
 */
export class FrameBins {
  #frames: FrameValue[] = []
  #last: number | null = null
  #stepSquare: number | null = null

  add(frame: FrameValue): void {
    if (this.#last !== null) {
      const square = (frame.plain - this.#last) ** 2 / 2
      const before = this.#stepSquare
      this.#stepSquare = before === null ? square : before + FORGET * (square - before)
    }
    this.#last = frame.plain
    this.#frames.push(frame)
  }

  /** The frames since the last call as one reading; null for none. */
  take(): BinValue | null {
    const frames = this.#frames
    if (frames.length === 0) return null
    this.#frames = []
    const sd = Math.max(Math.sqrt(this.#stepSquare ?? 0), LEAST_NOISE)
    // 1.253: of a median (Kendall & Stuart, 1, ch. 14); one or two frames have a mean.
    const factor = frames.length > 2 ? 1.253 : 1
    return {
      plain: median(frames.map(({ plain }) => plain)),
      lnRed: median(frames.map(({ lnRed }) => lnRed)),
      lnNoise: (factor * sd) / Math.sqrt(frames.length),
      frames: frames.length,
    }
  }

  /** The glow was lost, or another one is looked at: the next step is none. */
  clear(): void {
    this.#frames = []
    this.#last = null
  }
}
