/**
 * Small dense linear algebra on rows of numbers. Sizes here are 2 to 60; nothing is blocked or
 * reused.
 */
export type Rows = readonly (readonly number[])[]
/** Rows in either form. */
export type ArrayRows = readonly ArrayLike<number>[]

/**
 * Lower Cholesky factor of a symmetric positive definite matrix; only its lower half is read.
 *
 * @throws RangeError when the matrix is not positive definite
 */
export function cholesky(a: ArrayRows): number[][] {
  const l: number[][] = []
  for (let i = 0; i < a.length; i++) {
    const row: number[] = []
    for (let j = 0; j < i; j++) row[j] = (a[i]![j]! - partialDot(row, l[j]!, j)) / l[j]![j]!
    const left = a[i]![i]! - partialDot(row, row, i)
    if (!(left > 0)) throw new RangeError(`matrix is not positive definite at row ${i}`)
    row[i] = Math.sqrt(left)
    l.push(row)
  }
  return l
}

/** The same; null where the matrix is not positive definite. */
export function tryCholesky(a: ArrayRows): number[][] | null {
  try {
    return cholesky(a)
  } catch {
    return null
  }
}

function partialDot(a: ArrayLike<number>, b: ArrayLike<number>, count: number): number {
  let sum = 0
  for (let k = 0; k < count; k++) sum += a[k]! * b[k]!
  return sum
}

/** Solves L L^T x = b for the factor of {@link cholesky}. */
export function solveCholesky(l: Rows, b: ArrayLike<number>): number[] {
  const n = l.length
  const x = Array.from(b)
  for (let i = 0; i < n; i++) x[i] = (x[i]! - partialDot(l[i]!, x, i)) / l[i]![i]!
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!
    for (let k = i + 1; k < n; k++) sum -= l[k]![i]! * x[k]!
    x[i] = sum / l[i]![i]!
  }
  return x
}

/** (L L^T)^-1 for the factor of {@link cholesky}. */
export function inverseFromCholesky(l: Rows): number[][] {
  return l.map((_, i) =>
    solveCholesky(
      l,
      l.map((_, j) => (i === j ? 1 : 0)),
    ),
  )
}

/** ln of the determinant of L L^T. */
export function logDeterminant(l: Rows): number {
  let sum = 0
  for (const [i, row] of l.entries()) sum += Math.log(row[i]!)
  return 2 * sum
}

export interface Eigen {
  /** Largest first. */
  readonly values: number[]
  /** Unit vectors, one a row, in the order of the values. */
  readonly vectors: number[][]
}

/** Eigenvalues and vectors of a symmetric matrix by cyclic Jacobi rotations. */
export function symmetricEigen(matrix: Rows): Eigen {
  const n = matrix.length
  const a = matrix.map((row) => Array.from(row))
  const v: number[][] = a.map((_, i) => a.map((_, j) => (i === j ? 1 : 0)))
  for (let sweep = 0; sweep < 60; sweep++) {
    let off = 0
    let on = 0
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        if (i === j) on += a[i]![j]! ** 2
        else off += a[i]![j]! ** 2
      }
    if (off <= 1e-30 * on) break
    for (let p = 0; p < n; p++)
      for (let q = p + 1; q < n; q++) {
        const apq = a[p]![q]!
        if (apq === 0) continue
        const theta = (a[q]![q]! - a[p]![p]!) / (2 * apq)
        const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.hypot(1, theta))
        const c = 1 / Math.hypot(1, t)
        const s = t * c
        for (let k = 0; k < n; k++) {
          const kp = a[k]![p]!
          const kq = a[k]![q]!
          a[k]![p] = c * kp - s * kq
          a[k]![q] = s * kp + c * kq
        }
        for (let k = 0; k < n; k++) {
          const pk = a[p]![k]!
          const qk = a[q]![k]!
          a[p]![k] = c * pk - s * qk
          a[q]![k] = s * pk + c * qk
          const vp = v[p]![k]!
          const vq = v[q]![k]!
          v[p]![k] = c * vp - s * vq
          v[q]![k] = s * vp + c * vq
        }
      }
  }
  const order = a.map((_, i) => i).sort((i, j) => a[j]![j]! - a[i]![i]!)
  return { values: order.map((i) => a[i]![i]!), vectors: order.map((i) => v[i]!) }
}

/** Pivots smaller than this share of the largest variance are zero but for rounding. */
const LEAST_PIVOT = 1e-12

/**
 * Lower factor L with L L^T = a of a covariance that may be singular: directions without variance
 * become columns of zeros.
 */
export function semidefiniteCholesky(a: ArrayRows): Float64Array[] {
  const size = a.length
  const root = Array.from({ length: size }, () => new Float64Array(size))
  let largest = 0
  for (let i = 0; i < size; i++) largest = Math.max(largest, a[i]![i]!)
  for (let j = 0; j < size; j++) {
    const pivot = a[j]![j]! - partialDot(root[j]!, root[j]!, j)
    if (!(pivot > LEAST_PIVOT * largest)) continue
    const scale = Math.sqrt(pivot)
    root[j]![j] = scale
    for (let i = j + 1; i < size; i++)
      root[i]![j] = (a[i]![j]! - partialDot(root[i]!, root[j]!, j)) / scale
  }
  return root
}

/**
 * Inverse of a small symmetric positive definite matrix. Rows and columns are scaled to a unit
 * diagonal first, so parameters of very different size do no harm.
 *
 * @returns null when it is singular to working accuracy
 */
export function invertPositive(matrix: ArrayRows): number[][] | null {
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]!))
  if (!scale.every((value) => Number.isFinite(value) && value > 0)) return null
  const scaled = matrix.map((row, i) =>
    Array.from(row, (value, j) => value * scale[i]! * scale[j]!),
  )
  const factor = tryCholesky(scaled)
  // A pivot of 1e-7, squared 1e-14, is rounding.
  if (!factor?.every((row, i) => row[i]! > 1e-7)) return null
  return inverseFromCholesky(factor).map((row, i) =>
    row.map((value, j) => value * scale[i]! * scale[j]!),
  )
}
