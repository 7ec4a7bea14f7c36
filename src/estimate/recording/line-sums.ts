import { onceFor } from '../../numerics/once-for.ts'
import type { Readings } from './heat-curve.ts'

/** A straight line through a stretch of readings. */
export interface FittedLine {
  readonly count: number
  /** Middle of the stretch's readings, s, and the mean there, K. */
  readonly middleSeconds: number
  readonly meanK: number
  /** K/s. */
  readonly slope: number
  /** Standard error of the slope for readings with a standard deviation of 1 K, 1/s. */
  readonly slopeErrorPerK: number
  /** Sum of squared residuals, K^2. */
  readonly squares: number
}

/** Lines through any stretch of readings at once: running sums, so that each costs the same. */
export class LineSums {
  /** Summed once for the same readings. */
  static readonly of = onceFor((readings: Readings) => new LineSums(readings))

  readonly #sums: Float64Array
  readonly #origin: number
  readonly #offset: number

  constructor({ seconds, temperatureK }: Readings) {
    const n = seconds.length
    this.#origin = seconds[n >> 1] ?? 0
    this.#offset = temperatureK[n >> 1] ?? 0
    this.#sums = new Float64Array(5 * (n + 1))
    for (let i = 0; i < n; i++) {
      const t = seconds[i]! - this.#origin
      const y = temperatureK[i]! - this.#offset
      const terms = [t, y, t * t, t * y, y * y]
      for (let k = 0; k < 5; k++) this.#sums[5 * (i + 1) + k] = this.#sums[5 * i + k]! + terms[k]!
    }
  }

  /** Least squares over readings [from, to); slope 0 with an infinite error for fewer than three. */
  line(from: number, to: number): FittedLine {
    const n = to - from
    const s = this.#sums
    const [a, b] = [5 * from, 5 * to]
    const middle = (s[b]! - s[a]!) / n
    const mean = (s[b + 1]! - s[a + 1]!) / n
    const spread = s[b + 2]! - s[a + 2]! - n * middle * middle
    const enough = n >= 3 && spread > 0
    const slope = enough ? (s[b + 3]! - s[a + 3]! - n * middle * mean) / spread : 0
    return {
      count: n,
      middleSeconds: middle + this.#origin,
      meanK: mean + this.#offset,
      slope,
      slopeErrorPerK: enough ? 1 / Math.sqrt(spread) : Number.POSITIVE_INFINITY,
      squares: Math.max(0, s[b + 4]! - s[a + 4]! - n * mean * mean - slope * slope * spread),
    }
  }
}
