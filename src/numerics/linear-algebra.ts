/**
 * Small dense linear algebra on rows of numbers. Sizes here are 2 to 60; nothing is blocked or
 * reused.
 */
export type Rows = readonly (readonly number[])[]

/**
 * Lower Cholesky factor of a symmetric positive definite matrix.
 *
 * @throws RangeError when the matrix is not positive definite
 */
export function cholesky(a: Rows): number[][] {
  const n = a.length
  const l: number[][] = []
  for (let i = 0; i < n; i++) {
    const row: number[] = []
    for (let j = 0; j <= i; j++) {
      let sum = a[i]![j]!
      for (let k = 0; k < j; k++) sum -= row[k]! * (i === j ? row[k]! : l[j]![k]!)
      if (i !== j) row.push(sum / l[j]![j]!)
      else if (sum > 0) row.push(Math.sqrt(sum))
      else throw new RangeError(`matrix is not positive definite at row ${i}`)
    }
    l.push(row)
  }
  return l
}

/** Solves L L^T x = b for the factor of {@link cholesky}. */
export function solveCholesky(l: Rows, b: readonly number[]): number[] {
  const n = l.length
  const x = [...b]
  for (let i = 0; i < n; i++) {
    let sum = x[i]!
    for (let k = 0; k < i; k++) sum -= l[i]![k]! * x[k]!
    x[i] = sum / l[i]![i]!
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!
    for (let k = i + 1; k < n; k++) sum -= l[k]![i]! * x[k]!
    x[i] = sum / l[i]![i]!
  }
  return x
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
  const a = matrix.map((row) => [...row])
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
