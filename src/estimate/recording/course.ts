import { normalCdf } from '../../numerics/heavy-tails.ts'
import { curveNoise } from './curve-noise.ts'
import { commonUncertaintyAt, type HeatCurve, readingsOf } from './heat-curve.ts'
import { type Slope, slopeBetween } from './slope.ts'

/** Highest place of a curve. */
export interface Peak {
  readonly seconds: number
  readonly temperatureK: number
  /** Noise and what shifts the whole curve, where that is stated, K. */
  readonly standardUncertaintyK: number
}

/** Readings over which the highest mean is sought: the highest single one owes most to noise. */
const PEAK_READINGS = 5

export function peakOf(curve: HeatCurve): Peak | null {
  const readings = readingsOf(curve)
  const { seconds, temperatureK } = readings
  const n = Math.min(PEAK_READINGS, seconds.length)
  if (n === 0) return null
  let best = { at: 0, mean: Number.NEGATIVE_INFINITY }
  for (let i = 0; i + n <= seconds.length; i++) {
    let mean = 0
    for (let k = 0; k < n; k++) mean += temperatureK[i + k]! / n
    if (mean > best.mean) best = { at: i + (n >> 1), mean }
  }
  const { sdK, inflation } = curveNoise(readings)
  // A table may state none.
  const common = commonUncertaintyAt(curve, best.mean) || 0
  return {
    seconds: seconds[best.at]!,
    temperatureK: best.mean,
    standardUncertaintyK: Math.hypot((sdK * inflation) / Math.sqrt(n), common),
  }
}

/** Slower than this counts as steady: 2 K in a minute, our choice. K/s. */
export const STEADY_RATE = 2 / 60

export interface Course {
  readonly verdict: 'steady' | 'rising' | 'falling' | 'not known'
  /** Chance that the verdict is true; of 'not known' that of the likeliest. 0..1 */
  readonly sureness: number
  readonly slope: Slope
}

/** A verdict needs this chance. */
const SURE = 0.9

/** Whether the curve is steady or still moves over its last stretch; null for too few readings. */
export function courseAtEnd(curve: HeatCurve, lastSeconds: number): Course | null {
  const { seconds } = readingsOf(curve)
  const end = seconds[seconds.length - 1]
  if (end === undefined) return null
  const slope = slopeBetween(curve, end - lastSeconds, end)
  if (!slope) return null
  const error = Math.max(slope.standardUncertainty, 1e-12)
  const rising = normalCdf((slope.slope - STEADY_RATE) / error)
  const falling = normalCdf((-slope.slope - STEADY_RATE) / error)
  const chances = { rising, falling, steady: 1 - rising - falling } as const
  const likeliest = (['rising', 'falling', 'steady'] as const).reduce((a, b) =>
    chances[b] > chances[a] ? b : a,
  )
  const sureness = chances[likeliest]
  return { verdict: sureness >= SURE ? likeliest : 'not known', sureness, slope }
}
