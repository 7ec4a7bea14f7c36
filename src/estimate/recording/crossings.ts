import { cholesky, solveCholesky } from '../../numerics/linear-algebra.ts'
import {
  commonUncertaintyAt,
  type HeatCurve,
  type Readings,
  readingsOf,
  stretchesOf,
} from './heat-curve.ts'
import { slopeAt } from './slope.ts'

/** A time at which the curve goes through a temperature. */
export interface Crossing {
  readonly seconds: number
  /** Standard uncertainty by the scatter of the readings, s. */
  readonly byNoise: number
  /** K/s there. */
  readonly slope: number
}

/** A stretch of time with its standard uncertainty, s. */
export interface Duration {
  readonly seconds: number
  readonly standardUncertainty: number
}

/** Readings whose median is held against the temperature. */
const MEDIAN_OF = 5

/**
 * Where the curve goes through a temperature, in order. A running median says on which side it is, so
 * that one reading makes no crossing; a line through the readings about it says when.
 */
export function crossingsOf(curve: HeatCurve, levelK: number): Crossing[] {
  const readings = readingsOf(curve)
  const { seconds, temperatureK } = readings
  const found: Crossing[] = []
  for (const [from, to] of stretchesOf(readings)) {
    let side = 0
    for (let i = from; i < to; i++) {
      // Nothing to be seen: the usual case by far.
      if (Math.sign(temperatureK[i]! - levelK) === side) continue
      const window = temperatureK.slice(
        Math.max(from, i - (MEDIAN_OF >> 1)),
        Math.min(to, i + (MEDIAN_OF >> 1) + 1),
      )
      window.sort()
      const now = Math.sign(window[window.length >> 1]! - levelK)
      if (now === 0 || now === side) continue
      if (side !== 0) {
        const crossing = crossingNear(curve, levelK, seconds[i]!)
        if (crossing) found.push(crossing)
      }
      side = now
    }
  }
  return found
}

function crossingNear(curve: HeatCurve, levelK: number, nearSeconds: number): Crossing | null {
  const line = slopeAt(curve, nearSeconds)
  if (!line || line.slope === 0) return null
  const { fromSeconds, toSeconds, byNoise } = line
  const part = readingsOf(curve, fromSeconds, toSeconds)
  const middle = (fromSeconds + toSeconds) / 2
  const half = Math.max((toSeconds - fromSeconds) / 2, 1e-9)
  const bow = parabola(part, middle, half)
  // A line would leave the curvature in its level: a few steps of Newton along the parabola.
  let x = Math.min(Math.max((nearSeconds - middle) / half, -1), 1)
  let rate = line.slope * half
  for (let step = 0; step < 6; step++) {
    const now = bow[1] + 2 * bow[2] * x
    if (now * line.slope > 0) rate = now
    x = Math.min(Math.max(x - (bow[0] + bow[1] * x + bow[2] * x * x - levelK) / rate, -1), 1)
  }
  // In the middle the error of a parabola is 3/2 of that of a mean (Savitzky & Golay 1964).
  const mean = (1.5 * byNoise * half) / Math.sqrt(3)
  const slope = rate / half
  return {
    seconds: middle + x * half,
    byNoise: Math.hypot(mean, byNoise * half * x) / Math.abs(slope),
    slope,
  }
}

/** Least squares of a + b x + c x^2, x = (t - middle)/half. */
function parabola(
  { seconds, temperatureK }: Readings,
  middle: number,
  half: number,
): [number, number, number] {
  const a = [0, 1, 2].map(() => [0, 0, 0])
  const b = [0, 0, 0]
  const offset = temperatureK[0]!
  for (let i = 0; i < seconds.length; i++) {
    const x = (seconds[i]! - middle) / half
    const row = [1, x, x * x]
    for (let j = 0; j < 3; j++) {
      b[j]! += row[j]! * (temperatureK[i]! - offset)
      for (let k = 0; k <= j; k++) a[j]![k]! += row[j]! * row[k]!
    }
  }
  for (let j = 0; j < 3; j++) a[j]![j]! += 1e-9 * seconds.length
  const [p, q, r] = solveCholesky(cholesky(a), b) as [number, number, number]
  return [p + offset, q, r]
}

/** What a shift of the whole curve does to a crossing, s: the curve comes by earlier or later. */
const byCommon = (curve: HeatCurve, { slope }: Crossing, levelK: number) => {
  const common = commonUncertaintyAt(curve, levelK)
  return Number.isFinite(common) ? common / slope : 0
}

/** How long the curve was above a temperature; gaps count for nothing. */
export function timeAbove(curve: HeatCurve, levelK: number): Duration {
  const readings = readingsOf(curve)
  const { seconds, temperatureK } = readings
  const crossings = crossingsOf(curve, levelK)
  let total = 0
  for (const [from, to] of stretchesOf(readings)) {
    const [begin, end] = [seconds[from]!, seconds[to - 1]!]
    const inside = crossings.filter((c) => c.seconds >= begin && c.seconds <= end)
    const ends = [begin, ...inside.map((c) => c.seconds), end]
    for (let i = 1; i < ends.length; i++) {
      // Before an upward crossing it is below, after it above.
      const next = inside[i - 1]
      const last = inside[i - 2]
      const above = next ? next.slope < 0 : last ? last.slope > 0 : temperatureK[from]! > levelK
      if (above) total += ends[i]! - ends[i - 1]!
    }
  }
  const shift = crossings.reduce((sum, c) => sum + Math.abs(byCommon(curve, c, levelK)), 0)
  return {
    seconds: total,
    standardUncertainty: Math.hypot(shift, ...crossings.map((c) => c.byNoise)),
  }
}

export type Passage =
  | ({
      readonly kind: 'passed'
      readonly fromSeconds: number
      readonly toSeconds: number
    } & Duration)
  /** The curve never goes through this one of the two, in this order. */
  | { readonly kind: 'not reached'; readonly which: 'from' | 'to' }

/**
 * Time from one temperature to another: from the last passage of the first before the second is
 * reached. Of cooling from 800 to 500 °C it is the t8/5 of welding and hardening practice (EN 1011-2,
 * 3.6). A shift of the whole curve moves both ends, each by its own rate.
 */
export function passage(curve: HeatCurve, fromK: number, toK: number): Passage {
  const direction = Math.sign(toK - fromK)
  const along = (levelK: number) =>
    crossingsOf(curve, levelK).filter(({ slope }) => slope * direction > 0)
  const starts = along(fromK)
  if (starts.length === 0) return { kind: 'not reached', which: 'from' }
  const end = along(toK).find(({ seconds }) => seconds > starts[0]!.seconds)
  if (!end) return { kind: 'not reached', which: 'to' }
  const start = starts.findLast(({ seconds }) => seconds < end.seconds)!
  return {
    kind: 'passed',
    fromSeconds: start.seconds,
    toSeconds: end.seconds,
    seconds: end.seconds - start.seconds,
    standardUncertainty: Math.hypot(
      start.byNoise,
      end.byNoise,
      byCommon(curve, end, toK) - byCommon(curve, start, fromK),
    ),
  }
}
