import {
  type SplineBasis,
  type SplineWeights,
  splineAt,
  splineWeights,
} from '../../numerics/b-spline.ts'

/**
 * How a tone curve acts: on each channel alone, or on the brightest channel with the others scaled
 * along so that their ratios stay.
 */
export type SweptCurveKind = 'channel' | 'ratio'

/**
 * The response of a camera as departure from the nominal transfer function:
 * ln light = nominal ln light + spline. The scale is that where the spline is 0.
 */
export interface Response {
  readonly kind: SweptCurveKind
  /** Over the {@link knotPlace} of the nominal ln light. */
  readonly basis: SplineBasis
  readonly coefficients: readonly number[]
}

const STRETCH = 0.5
const BEYOND_TOP = 1.05

/**
 * Where on the spline's axis a nominal ln light (full scale 0) lies: the same in the lower half,
 * where tone curves are powers, and stretched towards the top, so that a shoulder that closes on
 * full scale, light = -ln(1 - code) or code / (1 - code), is nearly straight there too.
 */
export function knotPlace(nominalLn: number): number {
  const u = Math.min(nominalLn, 0)
  return u - STRETCH * Math.log(BEYOND_TOP - Math.exp(u)) + (nominalLn - u)
}

/** Derivative of {@link knotPlace}. */
export function knotStretch(nominalLn: number): number {
  if (nominalLn > 0) return 1
  const nominal = Math.exp(nominalLn)
  return 1 + (STRETCH * nominal) / (BEYOND_TOP - nominal)
}

/** Weights of the coefficients in the bend at a nominal ln light. */
export function bendWeights(basis: SplineBasis, nominalLn: number): SplineWeights {
  return splineWeights(basis, knotPlace(nominalLn))
}

/** ln of true over nominal light, and its slope by nominal ln light. */
export function bendAt(
  { basis, coefficients }: { basis: SplineBasis; coefficients: ArrayLike<number> },
  nominalLn: number,
): { value: number; slope: number } {
  const { value, slope } = splineAt(basis, coefficients, knotPlace(nominalLn))
  return { value, slope: slope * knotStretch(nominalLn) }
}
