import { tabulate } from './arrays.ts'

/**
 * Linear interpolation on a rising grid.
 *
 * @param x strictly rising, at least one
 * @returns the value at `at`; beyond the ends the end value
 */
export function interpolate(x: ArrayLike<number>, y: ArrayLike<number>, at: number): number {
  const i = segmentOf(x, at)
  const x0 = x[i]!
  const x1 = x[i + 1] ?? x0
  const share = x1 > x0 ? Math.min(1, Math.max(0, (at - x0) / (x1 - x0))) : 0
  return y[i]! + share * ((y[i + 1] ?? y[i]!) - y[i]!)
}

/** Index of the grid point at or below `at`, 0 to the last but one. */
export function segmentOf(x: ArrayLike<number>, at: number): number {
  let low = 0
  let high = Math.max(0, x.length - 1)
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (x[middle]! <= at) low = middle
    else high = middle
  }
  return low
}

/** Values at other, rising places; beyond the ends the end values. */
export function resample(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  onto: ArrayLike<number>,
): Float64Array {
  const last = x.length - 1
  let i = 0
  return tabulate(onto.length, (k) => {
    const at = onto[k]!
    while (i < last - 1 && x[i + 1]! <= at) i += 1
    if (at <= x[0]!) return y[0]!
    if (at >= x[last]!) return y[last]!
    return y[i]! + ((at - x[i]!) / (x[i + 1]! - x[i]!)) * (y[i + 1]! - y[i]!)
  })
}

/** Are two grids the same but for rounding? */
export function sameGrid(a: ArrayLike<number>, b: ArrayLike<number>): boolean {
  if (a.length !== b.length) return false
  for (let i = 0; i < a.length; i++) if (Math.abs(a[i]! - b[i]!) > 1e-6) return false
  return true
}
