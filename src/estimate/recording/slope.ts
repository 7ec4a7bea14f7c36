import { limitOfRate } from './course-by-level.ts'
import { curveNoise } from './curve-noise.ts'
import {
  commonUncertaintyAt,
  firstAtOrAfter,
  type HeatCurve,
  readingsOf,
  stretchesOf,
} from './heat-curve.ts'
import { LineSums } from './line-sums.ts'

/** What most of a slope's uncertainty comes from: the last is an exposure that changed within. */
export type SlopeLimit = 'noise' | 'scale' | 'exposure' | 'tone curve' | 'jump'

/** A rate of change with its uncertainty. K/s throughout. */
export interface Slope {
  readonly slope: number
  readonly standardUncertainty: number
  /** The part of it from the scatter of the readings. */
  readonly byNoise: number
  /** Of the line, at its middle. */
  readonly temperatureK: number
  readonly fromSeconds: number
  readonly toSeconds: number
  readonly readings: number
  /** Null where it is sure enough. */
  readonly limit: SlopeLimit | null
}

/** Expanded uncertainty (k = 2) over the slope from which on it is worth to say what limits it. */
const UNSURE = 0.1

/**
 * Slope of the readings between two times by least squares; null for fewer than three, or across a
 * gap.
 *
 * An error that shifts ln(G/R) of the whole curve shifts 1/T of it (Wien), so T by an amount that
 * grows with T^2 and the slope by twice its share: u(slope)/slope = 2 u(T)/T.
 */
export function slopeBetween(
  curve: HeatCurve,
  fromSeconds: number,
  toSeconds: number,
): Slope | null {
  const all = readingsOf(curve)
  const part = readingsOf(curve, fromSeconds, toSeconds)
  const n = part.seconds.length
  if (n < 3 || stretchesOf(part).length > 1) return null
  const first = firstAtOrAfter(all.seconds, part.seconds[0]!)
  const line = LineSums.of(all).line(first, first + n)
  const { sdK, inflation } = curveNoise(all)
  const residual = Math.sqrt(line.squares / (n - 2))
  // A bend within the stretch is in the residual already: it does not grow as shared noise does.
  const byNoise = Math.max(sdK * inflation, residual) * line.slopeErrorPerK
  const common = commonUncertaintyAt(curve, line.meanK)
  const byCommon = (2 * Math.abs(line.slope) * (Number.isFinite(common) ? common : 0)) / line.meanK
  const byRate = (curve.rateShare ?? 0) * Math.abs(line.slope)
  const [begin, end] = [part.seconds[0]!, part.seconds[n - 1]!]
  // A step in the middle of a stretch turns its line by 3/2 of the step over the length.
  const byJumps = (curve.jumps ?? [])
    .filter(({ seconds }) => seconds > begin && seconds <= end)
    .map(({ stepK }) => (1.5 * stepK) / (end - begin))
  const standardUncertainty = Math.hypot(byNoise, byCommon, byRate, ...byJumps)
  const terms: readonly (readonly [SlopeLimit | null, number])[] = [
    ['noise', byNoise],
    ['scale', byCommon],
    [limitOfRate(curve.rateShare ?? 0), byRate],
    ['jump', Math.hypot(...byJumps)],
  ]
  const [largest] = terms.reduce((a, b) => (b[1] > a[1] ? b : a))
  return {
    slope: line.slope,
    standardUncertainty,
    limit: 2 * standardUncertainty > UNSURE * Math.abs(line.slope) ? largest : null,
    byNoise,
    temperatureK: line.meanK,
    fromSeconds: begin,
    toSeconds: end,
    readings: n,
  }
}

const LEAST_READINGS = 5
const LENGTHEN = 1.5
/** Halves of a window may differ by so many standard errors, or by this share of the slope. */
const BENT = { errors: 3, share: 0.2 }

/**
 * Slope at a time: by the longest window about it in which the curve is straight as far as can be
 * told. About the middle of a parabola the line has the parabola's slope, so curvature does no
 * harm.
 */
export function slopeAt(curve: HeatCurve, atSeconds: number): Slope | null {
  const readings = readingsOf(curve)
  const { seconds } = readings
  const stretch = stretchesOf(readings).find(
    ([from, to]) => seconds[from]! <= atSeconds && atSeconds <= seconds[to - 1]!,
  )
  if (!stretch) return null
  const [first, last] = stretch
  const sums = LineSums.of(readings)
  const { sdK, inflation } = curveNoise(readings)
  const middle = Math.min(firstAtOrAfter(seconds, atSeconds), last - 1)
  const half = Math.min(middle - first, last - 1 - middle)
  let best: readonly [number, number] | null = null
  for (let reach = LEAST_READINGS >> 1; ; reach = Math.ceil(reach * LENGTHEN)) {
    // At an end the window is one-sided rather than none.
    const bound = Math.max(half, LEAST_READINGS)
    const within = Math.min(reach, bound)
    const from = Math.max(first, middle - within)
    const to = Math.min(last, middle + within + 1)
    if (to - from < 3) return null
    const [left, right] = [sums.line(from, (from + to) >> 1), sums.line((from + to) >> 1, to)]
    const error = sdK * inflation * Math.hypot(left.slopeErrorPerK, right.slopeErrorPerK)
    const apart = Math.abs(left.slope - right.slope)
    const straight =
      to - from < 2 * LEAST_READINGS ||
      apart <=
        Math.max(
          BENT.errors * error,
          BENT.share * Math.min(Math.abs(left.slope), Math.abs(right.slope)),
        )
    if (straight || !best) best = [from, to]
    if (!straight || reach >= bound) break
  }
  const [from, to] = best
  return slopeBetween(curve, seconds[from]!, seconds[to - 1]!)
}
