import { median } from '../../numerics/statistics.ts'

/**
 * ln of the red level goes with ln(G/R) of one body: d ln R / d ln(G/R) = (1/λR)/(1/λG - 1/λR) by Wien,
 * at the 610 and 540 nm where a camera's red and green see a glow.
 */
const LEVEL_OVER_RATIO = 1 / 610 / (1 / 540 - 1 / 610)
/** Readings on each side of a step. */
const SIDE = 5
/** A change of exposure of a tenth of a stop, ln. */
const LEAST_STEP = 0.1
/** The step stands out of the scatter by so many standard deviations. */
const OVER_SCATTER = 8
/**
 * Steps on each side that tell the scatter about a place: where green fades it is many times that of the
 * whole. An exposure that slides for as many readings still stands out.
 */
const NEAR = 30
/** Over the scatter about it, in which the step itself is. */
const OVER_NEAR = 5

/**
 * Places where the light changed in level but not in colour: the camera has changed its exposure, or
 * something came in between. The colour, and with it the temperature, holds across such a step as far
 * as the tone curve is known.
 *
 * @returns indices of the first readings after a step
 */
export function exposureJumps(lnRatio: ArrayLike<number>, lnRed: ArrayLike<number>): number[] {
  const n = lnRed.length
  const left = Float64Array.from(lnRed, (level, i) => level - LEVEL_OVER_RATIO * lnRatio[i]!)
  const middles = runningMedians(left)
  const steps = new Float64Array(n)
  for (let i = SIDE; i + SIDE <= n; i++) {
    const step = middles[i]! - middles[i - SIDE]!
    if (Number.isFinite(step)) steps[i] = step
  }
  const sizes = steps.map(Math.abs)
  const whole = scatterOf(sizes)
  const found: number[] = []
  for (let i = 1; i < n - 1; i++) {
    const size = sizes[i]!
    if (size < Math.max(LEAST_STEP, OVER_SCATTER * whole)) continue
    let largest = true
    for (let k = Math.max(0, i - SIDE); k <= Math.min(n - 1, i + SIDE); k++)
      if (sizes[k]! > size || (k < i && sizes[k]! === size)) largest = false
    if (!largest) continue
    const near = scatterOf(sizes.subarray(Math.max(0, i - NEAR), i + NEAR + 1))
    if (size >= OVER_NEAR * near) found.push(steepest(left, i))
  }
  return found
}

/** Standard deviation by the median (Rousseeuw & Croux 1993); 0 where there are no steps. */
const scatterOf = (sizes: Float64Array): number =>
  1.4826 * (median(sizes.filter((size) => size !== 0)) || 0)

/** Medians place a step to half of their length; single readings to one. */
function steepest(values: Float64Array, near: number): number {
  const change = (i: number) => Math.abs(values[i]! - values[i - 1]!)
  let best = near
  for (let i = near - (SIDE >> 1); i <= near + (SIDE >> 1); i++)
    if (change(i) > change(best)) best = i
  return best
}

/** Median of each reading and the four after it; NaN across a gap. */
function runningMedians(values: Float64Array): Float64Array {
  const window = new Float64Array(SIDE)
  return Float64Array.from(values, (_, i) => {
    if (i + SIDE > values.length) return Number.NaN
    for (let k = 0; k < SIDE; k++) {
      const value = values[i + k]!
      if (!Number.isFinite(value)) return Number.NaN
      let place = k
      while (place > 0 && window[place - 1]! > value) {
        window[place] = window[place - 1]!
        place--
      }
      window[place] = value
    }
    return window[SIDE >> 1]!
  })
}

/**
 * How far the temperature steps at a jump, beyond its course on both sides, K: a body does not jump,
 * so this is what the other exposure makes of it where the tone curve is not known. 0 where too few
 * readings stand about it.
 */
export function stepAtJump(temperatureK: ArrayLike<number>, at: number): number {
  const middle = (from: number) =>
    from < 0 || from + SIDE > temperatureK.length
      ? Number.NaN
      : median(Array.from({ length: SIDE }, (_, k) => temperatureK[from + k]!))
  const [before, after] = [middle(at - SIDE), middle(at)]
  const course = [before - middle(at - 2 * SIDE), middle(at + SIDE) - after].filter(Number.isFinite)
  const mean = course.reduce((sum, v) => sum + v, 0) / Math.max(course.length, 1)
  const step = Math.abs(after - before - mean)
  return Number.isFinite(step) ? step : 0
}
