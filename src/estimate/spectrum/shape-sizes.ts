import { normalMatrix } from './normal-matrix.ts'
import { MIRED, type PlanckFit, SCALE } from './planck-fit.ts'
import { type ShapeBasis, type ShapePrior, type ShapeSizes, SIZE_SPREAD } from './shape-error.ts'

/** Sizes that are weighed against each other: from nothing to a light that is no glow at all. */
const SMOOTH = [0.002, 0.004, 0.007, 0.01, 0.014, 0.02, 0.028, 0.04, 0.06, 0.1, 0.2, 0.5]
const FINE = [0.0005, 0.001, 0.002, 0.004, 0.008, 0.016, 0.032, 0.08, 0.2]

/**
 * How large the departures from the model are, by what the glow itself shows of them: the root of
 * the mean square over the posterior, on a grid of both sizes. Where the data say little the prior
 * stands. The smooth one is never taken for less than the prior's median: what looks like another
 * temperature leaves no residual, so a good fit proves nothing.
 *
 * @param fit at any sizes: it is linear enough near its end
 * Source: marginal likelihood of a linear Gaussian model, Rasmussen & Williams 2006, eq. 2.30, with
 *
 *   flat priors for scale and mired.
 */
export function shapeSizes(fit: PlanckFit, basis: ShapeBasis, prior: ShapePrior): ShapeSizes {
  const { columns, residual, residualNoise, weight, priors, parameters } = fit
  const count = columns.length
  const first = count - basis.functions.length
  const used = weight.map((value) => (value > 0 ? 1 : 0))
  // Parameters less their prior means.
  const offset = priors.map(({ mean }, j) =>
    j === SCALE || j === MIRED ? 0 : parameters[j]! - mean,
  )
  const data = residual.map((value, b) => {
    let sum = value
    for (let j = 2; j < count; j++) sum += columns[j]![b]! * offset[j]!
    return sum
  })
  const logs: number[] = []
  const squares: { smooth: number; fine: number }[] = []
  for (const fine of FINE) {
    const inverse = residualNoise.map((value, b) => used[b]! / (value + fine * fine))
    const normal = normalMatrix([...columns, data], inverse)
    let logNoise = 0
    inverse.forEach((value) => {
      if (value > 0) logNoise -= Math.log(value)
    })
    for (let j = 2; j < first; j++) normal[j]![j]! += priors[j]!.standardUncertainty ** -2
    // What is no part of the shape is the same for every smooth size: taken up once.
    const others = eliminate(normal, 0, first)
    if (others === null) continue
    for (const smooth of SMOOTH) {
      const matrix = normal.map((row, j) => (j < first ? row : row.slice()))
      let logPrior = 0
      for (let j = first; j < count; j++) {
        const u = basis.deviation[j - first]! * smooth
        matrix[j]![j]! += u ** -2
        logPrior += 2 * Math.log(u)
      }
      const shape = eliminate(matrix, first, count)
      if (shape === null) continue
      const misfit = Math.max(0, matrix[count]![count]!)
      const log =
        -0.5 * (logNoise + logPrior + others + shape + misfit) +
        logLognormal(smooth, prior.smooth) +
        logLognormal(fine, prior.fine)
      logs.push(log)
      squares.push({ smooth: smooth * smooth, fine: fine * fine })
    }
  }
  const best = Math.max(...logs)
  let total = 0
  let smooth = 0
  let fine = 0
  logs.forEach((log, i) => {
    const w = Math.exp(log - best)
    total += w
    smooth += w * squares[i]!.smooth
    fine += w * squares[i]!.fine
  })
  return {
    smooth: Math.max(prior.smooth, Math.sqrt(smooth / total)),
    fine: Math.sqrt(fine / total),
  }
}

/** Of the logarithm's normal distribution; the grids are nearly even in it. */
const logLognormal = (value: number, median: number) =>
  -0.5 * (Math.log(value / median) / SIZE_SPREAD) ** 2

/**
 * Cholesky's elimination of rows `from` to `to` from all below them, in the lower triangle, in place.
 * Once all rows but the last are through, the last diagonal element is the weighted sum of squares
 * that no parameter takes up.
 *
 * @returns ln of the product of the pivots; null where one is not positive
 */
function eliminate(matrix: readonly Float64Array[], from: number, to: number): number | null {
  let logDeterminant = 0
  for (let k = from; k < to; k++) {
    const pivotRow = matrix[k]!
    const pivot = pivotRow[k]!
    if (!(pivot > 0)) return null
    logDeterminant += Math.log(pivot)
    for (let i = k + 1; i < matrix.length; i++) {
      const row = matrix[i]!
      const factor = row[k]! / pivot
      if (factor === 0) continue
      for (let j = k + 1; j <= i; j++) row[j]! -= factor * matrix[j]![k]!
    }
  }
  return logDeterminant
}
