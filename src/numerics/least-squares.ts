import {
  inverseFromCholesky,
  logDeterminant,
  type Rows,
  solveCholesky,
  tryCholesky,
} from './linear-algebra.ts'

/**
 * Gauss-Newton for small problems: residuals already divided by their standard deviations, priors
 * written as residuals too, so that the minimum is the most probable point and the inverse of the
 * normal matrix its covariance (GUM Supplement 2; Laplace's approximation).
 */
export interface Residuals {
  readonly value: number[]
  /** Derivatives, one row a residual. */
  readonly jacobian: Float64Array[]
}

export interface Minimum {
  readonly parameters: Float64Array
  readonly covariance: Rows
  /** Sum of squared residuals, priors included. */
  readonly cost: number
  /** Logarithm of the determinant of the normal matrix. */
  readonly logDeterminant: number
  /** False where the last step was still large. */
  readonly converged: boolean
}

export function minimise(
  start: Float64Array,
  residuals: (parameters: Float64Array) => Residuals,
  largestIterations = 40,
): Minimum {
  let parameters = start
  let current = residuals(parameters)
  let cost = sumOfSquares(current.value)
  let damping = 1e-6
  let converged = false
  for (let iteration = 0; iteration < largestIterations && !converged; iteration++) {
    const { normal, gradient } = normalEquations(current, parameters.length)
    for (let attempt = 0; attempt < 12; attempt++) {
      const damped = normal.map((row, i) => {
        const copy = Float64Array.from(row)
        copy[i]! += damping * (row[i]! + 1e-12)
        return copy
      })
      const factor = tryCholesky(damped)
      const step = factor && solveCholesky(factor, gradient)
      if (step) {
        const next = parameters.map((p, i) => p - step[i]!)
        const tried = residuals(next)
        const triedCost = sumOfSquares(tried.value)
        if (triedCost <= cost) {
          converged = cost - triedCost <= 1e-9 * (1 + cost)
          parameters = next
          current = tried
          cost = triedCost
          damping = Math.max(damping / 10, 1e-10)
          break
        }
      }
      damping = Math.max(damping * 10, 1e-8)
      if (attempt === 11) converged = true
    }
  }
  const { normal } = normalEquations(current, parameters.length)
  const factor = tryCholesky(normal.map((row, i) => row.map((v, j) => (i === j ? v + 1e-10 : v))))
  if (!factor) throw new Error('normal matrix is singular: a parameter has neither data nor prior')
  return {
    parameters,
    covariance: inverseFromCholesky(factor),
    cost,
    logDeterminant: logDeterminant(factor),
    converged,
  }
}

const sumOfSquares = (values: readonly number[]) => values.reduce((sum, v) => sum + v * v, 0)

function normalEquations({ value, jacobian }: Residuals, size: number) {
  const normal = Array.from({ length: size }, () => new Float64Array(size))
  const gradient = new Float64Array(size)
  for (let k = 0; k < value.length; k++) {
    const row = jacobian[k]!
    for (let i = 0; i < size; i++) {
      if (row[i] === 0) continue
      gradient[i]! += row[i]! * value[k]!
      for (let j = 0; j <= i; j++) normal[i]![j]! += row[i]! * row[j]!
    }
  }
  for (let i = 0; i < size; i++) for (let j = i + 1; j < size; j++) normal[i]![j] = normal[j]![i]!
  return { normal, gradient }
}
