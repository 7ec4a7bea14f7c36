import type { Matrix3, Triple } from './matrix3.ts'

/** NaN for none. */
export const average = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length

/** Middle value; the mean of the two middle ones for an even count; NaN for none. */
export function median(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort()
  const n = sorted.length
  if (n === 0) return Number.NaN
  const half = n >> 1
  return n % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2
}

/**
 * Robust standard deviation: 1.4826 times the median absolute deviation, which is the standard
 * deviation for normal values (Rousseeuw & Croux 1993, eq. 1.2).
 */
export function robustSd(values: ArrayLike<number>, centre = median(values)): number {
  return 1.4826 * median(Float64Array.from(values, (v) => Math.abs(v - centre)))
}

/** Value below which the given share (0..1) of the values lies, linear between ranks. */
export function quantile(values: ArrayLike<number>, share: number): number {
  const sorted = Float64Array.from(values).sort()
  if (sorted.length === 0) return Number.NaN
  const at = share * (sorted.length - 1)
  const low = Math.floor(at)
  const high = Math.min(low + 1, sorted.length - 1)
  return sorted[low]! + (at - low) * (sorted[high]! - sorted[low]!)
}

/** Mean of triples; zeros for none. */
export function meanTriple(values: readonly Triple[]): Triple {
  let [a, b, c] = [0, 0, 0]
  for (const v of values) {
    a += v[0]
    b += v[1]
    c += v[2]
  }
  const n = Math.max(values.length, 1)
  return [a / n, b / n, c / n]
}

/** Mean outer product v v^T, times a factor. */
export function meanOuterProduct(values: readonly Triple[], factor = 1): Matrix3 {
  const s = [0, 0, 0, 0, 0, 0]
  for (const [a, b, c] of values) {
    s[0]! += a * a
    s[1]! += a * b
    s[2]! += a * c
    s[3]! += b * b
    s[4]! += b * c
    s[5]! += c * c
  }
  const k = factor / Math.max(values.length, 1)
  const [aa, ab, ac, bb, bc, cc] = s.map((v) => v * k) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  return [
    [aa, ab, ac],
    [ab, bb, bc],
    [ac, bc, cc],
  ]
}

/** Sum of matrices. */
export function addMatrices(...terms: readonly Matrix3[]): Matrix3 {
  const cell = (i: 0 | 1 | 2, j: 0 | 1 | 2) => terms.reduce((sum, m) => sum + m[i][j], 0)
  const row = (i: 0 | 1 | 2): Triple => [cell(i, 0), cell(i, 1), cell(i, 2)]
  return [row(0), row(1), row(2)]
}
