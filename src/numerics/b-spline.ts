/**
 * Uniform cubic B-splines (de Boor 1978): a smooth function by a few coefficients, linear in them.
 * Outside the knots it goes on as a straight line.
 */
export interface SplineBasis {
  readonly first: number
  readonly spacing: number
  /** Number of coefficients; the knots reach from `first` over `size - 3` spacings. */
  readonly size: number
}

/** Weights of the four coefficients that act at a place, and the first one's index. */
export interface SplineWeights {
  readonly index: number
  readonly weights: readonly [number, number, number, number]
  /** Of the first derivative. */
  readonly slopes: readonly [number, number, number, number]
}

export function splineWeights(basis: SplineBasis, at: number): SplineWeights {
  const last = basis.size - 3
  const position = (at - basis.first) / basis.spacing
  const inside = Math.min(Math.max(position, 0), last)
  const index = Math.min(Math.floor(inside), last - 1)
  const t = inside - index
  const s = 1 - t
  const d = 1 / basis.spacing
  const slopes: [number, number, number, number] = [
    (-s * s * d) / 2,
    ((3 * t - 4) * t * d) / 2,
    ((-3 * t + 2) * t + 1) * (d / 2),
    (t * t * d) / 2,
  ]
  const values: [number, number, number, number] = [
    (s * s * s) / 6,
    ((3 * t - 6) * t * t + 4) / 6,
    (((-3 * t + 3) * t + 3) * t + 1) / 6,
    (t * t * t) / 6,
  ]
  const beyond = (position - inside) * basis.spacing
  if (beyond !== 0) for (let k = 0; k < 4; k++) values[k]! += beyond * slopes[k]!
  return { index, weights: values, slopes }
}

/** Value and slope of the spline at a place. */
export function splineAt(
  basis: SplineBasis,
  coefficients: ArrayLike<number>,
  at: number,
): { value: number; slope: number } {
  const { index, weights, slopes } = splineWeights(basis, at)
  let [value, slope] = [0, 0]
  for (let k = 0; k < 4; k++) {
    value += weights[k]! * coefficients[index + k]!
    slope += slopes[k]! * coefficients[index + k]!
  }
  return { value, slope }
}
