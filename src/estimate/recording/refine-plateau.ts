import { cholesky, solveCholesky } from '../../numerics/linear-algebra.ts'
import { median } from '../../numerics/statistics.ts'
import { correlatedError } from './curve-noise.ts'
import type { Readings } from './heat-curve.ts'
import { LineSums } from './line-sums.ts'
import type { Plateau, SlowWindow } from './plateaus.ts'

type Refined = Omit<Plateau, 'kind' | 'during' | 'significance'>

/** Readings beside the window that the fit sees, over the window's length. */
const CONTEXT = 0.75
const LEAST_CONTEXT = 12
/** A side with fewer readings than this is fitted by a straight line, else by a parabola. */
const BOWED = 10
/** Undercooling: the curve went past the level by so many standard deviations, and so many K. */
const PAST = { deviations: 5, kelvin: 1.5 }

/**
 * Ends, level and slopes of a plateau: parabola, straight line and parabola that meet at two knots,
 * by least squares; the knots by a search that narrows. Where the curve went past the level first
 * (undercooling), the plateau begins when it has come back, and the dip counts for nothing.
 */
export function refinePlateau(
  readings: Readings,
  window: SlowWindow,
  { sdK, errorK }: { readonly sdK: number; readonly errorK: number },
): { readonly fit: Refined; readonly residualErrorK: number } {
  const { seconds, temperatureK } = readings
  const n = seconds.length
  const length = window.to - window.from
  const beside = Math.max(LEAST_CONTEXT, Math.round(CONTEXT * length))
  const dip = dipBefore(readings, window, beside, sdK)
  const first = dip ? dip.back : Math.max(0, window.from - beside)
  const last = Math.min(n, window.to + beside)
  const times = seconds.subarray(first, last)
  const values = temperatureK.subarray(first, last)
  const t1 = dip ? times[0]! : seconds[window.from]!
  const fit = searchKnots(times, values, [t1, seconds[window.to - 1]!], dip !== null)
  const [fromSeconds, toSeconds] = fit.knots
  const count = Math.max(1, times.filter((t) => t >= fromSeconds && t <= toSeconds).length)
  const duration = toSeconds - fromSeconds
  const noise = errorK / Math.sqrt(count)
  const refined: Refined = {
    fromSeconds,
    toSeconds,
    levelK: fit.level,
    // A straight rise over the stretch is a rectangle of its height (GUM 4.3.7).
    levelUncertaintyK: Math.hypot(noise, (fit.within * duration) / Math.sqrt(12)),
    slopeBefore: dip ? dip.slopeBefore : fit.before,
    slopeWithin: fit.within,
    slopeWithinUncertainty: (noise * Math.sqrt(12)) / Math.max(duration, 1e-9),
    slopeAfter: fit.after,
    undercoolingK: dip?.depthK ?? 0,
  }
  return { fit: refined, residualErrorK: correlatedError(residualsOf(times, values, fit)) }
}

interface Dip {
  /** The first reading that is back at the level. */
  readonly back: number
  readonly depthK: number
  readonly slopeBefore: number
}

/** The way past the level and back that undercooling makes before a plateau; null for none. */
function dipBefore(
  readings: Readings,
  { from, to, direction }: SlowWindow,
  beside: number,
  sdK: number,
): Dip | null {
  const { temperatureK } = readings
  const middle = (from + to) >> 1
  const level = median(temperatureK.subarray(middle, Math.max(middle + 1, to)))
  /** How far past the level, K: a median of three, so that one reading is no dip. */
  const past = (i: number) =>
    direction * (median(temperatureK.subarray(Math.max(i - 1, 0), i + 2)) - level)
  const begin = Math.max(0, from - beside)
  let deepest = begin
  for (let i = begin; i < middle; i++) if (past(i) > past(deepest)) deepest = i
  const depthK = past(deepest)
  if (!(depthK > Math.max(PAST.deviations * sdK, PAST.kelvin))) return null
  // Back: as near to the level as the noise lets it be told.
  const near = Math.max(sdK, 0.05 * depthK)
  let back = deepest
  while (back < middle && past(back) > near) back++
  let down = deepest
  while (down > 0 && past(down) > 0) down--
  // On a slope that only ends in the level there is nothing before it on the other side.
  if (down < 3) return null
  const before = new LineSums(readings).line(Math.max(0, down - beside), down)
  return direction * before.slope > 0 ? { back, depthK, slopeBefore: before.slope } : null
}

interface KnotFit {
  readonly knots: readonly [number, number]
  readonly level: number
  readonly before: number
  readonly within: number
  readonly after: number
  readonly beforeBow: number
  readonly afterBow: number
  readonly squares: number
}

function residualsOf(times: Float64Array, values: Float64Array, fit: KnotFit): Float64Array {
  const [t1, t2] = fit.knots
  return values.map((value, i) => {
    const t = times[i]!
    const [left, right] = [Math.min(t - t1, 0), Math.max(t - t2, 0)]
    const within = (Math.min(Math.max(t, t1), t2) - (t1 + t2) / 2) * fit.within
    const before = left * fit.before + left * left * fit.beforeBow
    return value - fit.level - within - before - right * fit.after - right * right * fit.afterBow
  })
}

const ROUNDS = 6
const POINTS = 9

/** @param fixed the first knot is where the readings begin */
function searchKnots(
  times: Float64Array,
  values: Float64Array,
  start: readonly [number, number],
  fixed: boolean,
): KnotFit {
  const [first, last] = [times[0]!, times[times.length - 1]!]
  const least = (3 * (last - first)) / Math.max(times.length - 1, 1)
  let width = 0.7 * (start[1] - start[0])
  let best = fitKnots(times, values, start, fixed)
  for (let round = 0; round < ROUNDS; round++) {
    const [c1, c2] = best.knots
    for (let i = 0; i < (fixed ? 1 : POINTS); i++)
      for (let k = 0; k < POINTS; k++) {
        const at = (place: number) => width * ((2 * place) / (POINTS - 1) - 1)
        const t1 = fixed ? start[0] : Math.max(first, c1 + at(i))
        const t2 = Math.min(last, c2 + at(k))
        if (t2 - t1 < least) continue
        const fit = fitKnots(times, values, [t1, t2], fixed)
        if (fit.squares < best.squares) best = fit
      }
    width /= 2.5
  }
  return best
}

/** Least squares of the three pieces for given knots. */
function fitKnots(
  times: Float64Array,
  values: Float64Array,
  knots: readonly [number, number],
  fixed: boolean,
): KnotFit {
  const [t1, t2] = knots
  const scale = times[times.length - 1]! - times[0]!
  const middle = (t1 + t2) / 2
  const offset = values[values.length >> 1]!
  const before = times.filter((t) => t < t1).length
  const after = times.filter((t) => t > t2).length
  const pieces = 2 + 2 + 2
  const a = Array.from({ length: pieces }, () => new Array<number>(pieces).fill(0))
  const b = new Array<number>(pieces).fill(0)
  let total = 0
  const row = new Array<number>(pieces).fill(0)
  for (let i = 0; i < times.length; i++) {
    const t = times[i]!
    const left = fixed ? 0 : Math.min(t - t1, 0) / scale
    const right = Math.max(t - t2, 0) / scale
    row[0] = 1
    row[1] = (Math.min(Math.max(t, t1), t2) - middle) / scale
    row[2] = left
    row[3] = right
    row[4] = before >= BOWED ? left * left : 0
    row[5] = after >= BOWED ? right * right : 0
    const y = values[i]! - offset
    total += y * y
    for (let j = 0; j < pieces; j++) {
      b[j]! += row[j]! * y
      for (let k = 0; k <= j; k++) a[j]![k]! += row[j]! * row[k]!
    }
  }
  // A piece without readings gets 0 by this, and the others are not moved.
  for (let j = 0; j < pieces; j++) a[j]![j]! += 1e-9 * times.length
  const x = solveCholesky(cholesky(a), b)
  const explained = x.reduce((sum, value, j) => sum + value * b[j]!, 0)
  return {
    knots,
    level: x[0]! + offset,
    before: x[2]! / scale,
    within: x[1]! / scale,
    after: x[3]! / scale,
    beforeBow: x[4]! / scale ** 2,
    afterBow: x[5]! / scale ** 2,
    squares: total - explained,
  }
}
