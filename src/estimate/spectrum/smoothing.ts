export interface Smoothed {
  readonly value: Float64Array
  /** Standard uncertainty of the value, same unit. */
  readonly sigma: Float64Array
  /** Half-width of the window used, nm; 0 where the sample stands as it was. */
  readonly halfWidthNm: Float64Array
}

/** Samples on either side of the centre, tried in this order. */
const HALF_COUNTS = [2, 3, 5, 8, 12, 18, 27, 40] as const
/** Noise that is low enough: a better response would not better a temperature. */
const ENOUGH = 0.01
/** Never wider than this on either side: fringes and edges of real responses live above it. */
const MAX_HALF_WIDTH_NM = 6
/** A wider window may move the value by this many standard deviations of the move. */
const MAX_MOVE = 3

/**
 * Smooths a response no more than needed. Criterion, sample by sample: the narrowest window in which
 * a local parabola brings the relative noise to 1 %. Widening ends earlier where the value moves by
 * more than noise explains (the response bends there), and at 6 nm on either side in any case.
 *
 * A parabola fitted evenly over the window keeps values, slopes and curvatures as they are, so that
 * slow errors of the response pass through unchanged; they are counted in full in the budget.
 *
 * @param wavelengthNm strictly rising; steps may differ, a window does not reach over 6 nm
 * @param sigma standard uncertainty by noise of every sample, independent between samples
 * Source: least squares; Savitzky & Golay 1964 for even steps. Stopping rule after Lepski 1991.
 */
export function smoothNoMoreThanNeeded(
  wavelengthNm: ArrayLike<number>,
  raw: ArrayLike<number>,
  sigma: ArrayLike<number>,
): Smoothed {
  const value = Float64Array.from(raw)
  const spread = Float64Array.from(sigma)
  const halfWidthNm = new Float64Array(value.length)
  for (let i = 0; i < value.length; i++) {
    for (const halfCount of HALF_COUNTS) {
      if (spread[i]! <= ENOUGH * value[i]!) break
      const wider = localParabola(wavelengthNm, raw, sigma, i, halfCount)
      if (wider === null) continue
      if (wider.halfWidthNm > MAX_HALF_WIDTH_NM) break
      const move = Math.abs(wider.value - value[i]!)
      const expected = Math.sqrt(Math.max(0, spread[i]! ** 2 - wider.sigma ** 2))
      if (move > MAX_MOVE * expected) break
      value[i] = wider.value
      spread[i] = wider.sigma
      halfWidthNm[i] = wider.halfWidthNm
    }
  }
  return { value, sigma: spread, halfWidthNm }
}

/** Value at sample i of the parabola through its neighbours; null at an end with too few of them. */
function localParabola(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  sigma: ArrayLike<number>,
  i: number,
  halfCount: number,
): { value: number; sigma: number; halfWidthNm: number } | null {
  const from = Math.max(0, i - halfCount)
  const to = Math.min(x.length - 1, i + halfCount)
  const halfWidthNm = Math.max(x[to]! - x[i]!, x[i]! - x[from]!)
  if (to - from < 4) return null
  let s1 = 0
  let s2 = 0
  let s3 = 0
  let s4 = 0
  for (let j = from; j <= to; j++) {
    const t = (x[j]! - x[i]!) / halfWidthNm
    const t2 = t * t
    s1 += t
    s2 += t2
    s3 += t * t2
    s4 += t2 * t2
  }
  const s0 = to - from + 1
  // First row of the inverse of the normal matrix: weights a + b t + c t^2 of the value at t = 0.
  const ca = s2 * s4 - s3 * s3
  const cb = s2 * s3 - s1 * s4
  const cc = s1 * s3 - s2 * s2
  const determinant = s0 * ca + s1 * cb + s2 * cc
  let value = 0
  let variance = 0
  for (let j = from; j <= to; j++) {
    const t = (x[j]! - x[i]!) / halfWidthNm
    const weight = (ca + t * (cb + t * cc)) / determinant
    value += weight * y[j]!
    variance += (weight * sigma[j]!) ** 2
  }
  return { value, sigma: Math.sqrt(variance), halfWidthNm }
}
