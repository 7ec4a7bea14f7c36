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
 * Places where the light changed in level but not in colour: the camera has changed its exposure, or
 * something came in between. The colour, and with it the temperature, holds across such a step as far
 * as the tone curve is known.
 *
 * @returns indices of the first readings after a step
 */
export function exposureJumps(lnRatio: ArrayLike<number>, lnRed: ArrayLike<number>): number[] {
  const n = lnRed.length
  const left = Float64Array.from(lnRed, (level, i) => level - LEVEL_OVER_RATIO * lnRatio[i]!)
  const here = (i: number) => Number.isFinite(left[i]!)
  const steps = new Float64Array(n)
  for (let i = SIDE; i + SIDE <= n; i++) {
    let whole = true
    for (let k = i - SIDE; k < i + SIDE; k++) whole &&= here(k)
    if (whole) steps[i] = median(left.subarray(i, i + SIDE)) - median(left.subarray(i - SIDE, i))
  }
  const scatter = 1.4826 * median(steps.filter((step) => step !== 0).map(Math.abs))
  const least = Math.max(LEAST_STEP, OVER_SCATTER * (scatter || 0))
  const found: number[] = []
  for (let i = 1; i < n - 1; i++) {
    const size = Math.abs(steps[i]!)
    if (size < least) continue
    let largest = true
    for (let k = Math.max(0, i - SIDE); k <= Math.min(n - 1, i + SIDE); k++)
      if (Math.abs(steps[k]!) > size || (k < i && Math.abs(steps[k]!) === size)) largest = false
    if (largest) found.push(i)
  }
  return found
}
