import { cholesky, solveCholesky } from '../../numerics/linear-algebra.ts'
import { robustSd } from '../../numerics/statistics.ts'

/** Refits; each gives less weight to what stands out. */
const FITS = 6
/** Residuals of so many robust standard deviations have no weight (Tukey's biweight, 95 % efficient). */
const OUTLYING = 4.685
/** Keeps a map of a single row or column solvable. */
const RIDGE = 1e-6
const TERMS = 6
/** Cells that are enough to fit a slow course. */
const MOST_FITTED = 3000

/**
 * The slow course of values over a grid: a quadratic surface, fitted robustly, so that spots stand out
 * of it and do not bend it (iteratively reweighted least squares, Beaton & Tukey 1974).
 *
 * @param values NaN where there is none
 * @returns one value a cell, NaN where there is none
 */
export function trend(values: Float32Array, columns: number): Float32Array {
  const at: number[] = []
  for (let i = 0; i < values.length; i++) if (Number.isFinite(values[i]!)) at.push(i)
  const rows = values.length / columns
  const scale = Math.max(columns, rows) / 2
  const terms = (i: number): number[] => {
    const x = ((i % columns) - columns / 2) / scale
    const y = (Math.floor(i / columns) - rows / 2) / scale
    return [1, x, y, x * x, x * y, y * y]
  }
  // Evenly spread ones, so that no row or column is preferred.
  const stride = Math.max(1, Math.floor(at.length / MOST_FITTED))
  const used = at.filter((_, k) => k % stride === 0)
  const basis = used.map(terms)
  let weights = used.map(() => 1)
  let solved: number[] = []
  for (let fit = 0; fit < FITS; fit++) {
    const normal = Array.from({ length: TERMS }, () => new Array<number>(TERMS).fill(0))
    const right = new Array<number>(TERMS).fill(0)
    for (const [k, row] of basis.entries()) {
      const w = weights[k]!
      const value = values[used[k]!]!
      for (let i = 0; i < TERMS; i++) {
        right[i]! += w * row[i]! * value
        for (let j = 0; j <= i; j++) normal[i]![j]! += w * row[i]! * row[j]!
      }
    }
    for (let i = 0; i < TERMS; i++) {
      normal[i]![i]! += RIDGE * used.length
      for (let j = i + 1; j < TERMS; j++) normal[i]![j] = normal[j]![i]!
    }
    solved = solveCholesky(cholesky(normal), right)
    const residuals = basis.map((row, k) => values[used[k]!]! - combined(row, solved))
    const allowed = OUTLYING * Math.max(robustSd(residuals, 0), 1e-9)
    weights = residuals.map((r) => (Math.abs(r) < allowed ? (1 - (r / allowed) ** 2) ** 2 : 0))
  }
  const surface = new Float32Array(values.length).fill(Number.NaN)
  for (const i of at) surface[i] = combined(terms(i), solved)
  return surface
}

const combined = (row: readonly number[], factors: readonly number[]): number =>
  row.reduce((sum, term, i) => sum + term * factors[i]!, 0)
