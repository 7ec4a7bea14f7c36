import type { SplineBasis } from '../../numerics/b-spline.ts'
import { bendWeights, type SweptCurveKind } from './response.ts'

/** From below the first 8-bit code (ln 0.0003 = -8.1) to the top code, see `knotPlace`. */
export const BASIS: SplineBasis = { first: -8.5, spacing: 0.5, size: 23 }

/** What is taken for granted about a tone curve before a fit: standard deviations. */
export interface BendPrior {
  /**
   * Second differences of the coefficients: tone curves are nearly powers (straight in log against
   * log) in the lower half and bend in the shoulder, from a quarter of full scale on.
   */
  readonly bendBelow: number
  readonly bendShoulder: number
}

/**
 * Curves free to bend as they like: what a response is recovered with. The second is for strong toes
 * and shoulders (film, linear responses): a stiffer one takes their bends for wrong exposures.
 */
export const FREE = [
  { bendBelow: 0.03, bendShoulder: 0.15 },
  { bendBelow: 0.12, bendShoulder: 0.5 },
] as const
/**
 * Gentle curves, and nearly powers. Many are: a free curve that merely looks like a power would be a
 * coincidence, and held against that alone the other kind would seem certain.
 */
export const STIFF = [
  { bendBelow: 0.01, bendShoulder: 0.05 },
  { bendBelow: 0.005, bendShoulder: 0.01 },
] as const

const SHOULDER_FROM = -1.6
/**
 * Slope of the bend at mid-scale, 1 / contrast - 1: contrasts near 1.16 are common, linear responses
 * (2.2) and flat ones (0.8) are met.
 */
const SLOPE_MEAN = -0.14
/** A camera that stores linear codes does so in each channel; one that scales pixels is moderate. */
const SLOPE_SD: Readonly<Record<SweptCurveKind, number>> = { channel: 0.3, ratio: 0.15 }
/** Linear light that the file shows where there is none, full scale 1: cameras are off by 0.1 %. */
export const BLACK_LEVEL = [0.001, 0.0006, 0.001] as const

/** A weighted sum of parameters that is normal about `mean`. */
export interface PriorTerm {
  readonly mean: number
  readonly sd: number
  /** Index and factor of each parameter. */
  readonly terms: readonly (readonly [number, number])[]
}

/**
 * Priors of the spline's coefficients, which are the first parameters.
 *
 * @param anchor nominal ln light at which the bend is 0
 */
export function bendPriors(prior: BendPrior, kind: SweptCurveKind, anchor: number): PriorTerm[] {
  const found: PriorTerm[] = []
  for (let j = 1; j < BASIS.size - 1; j++) {
    const at = BASIS.first + (j - 1) * BASIS.spacing
    const sd = at > SHOULDER_FROM ? prior.bendShoulder : prior.bendBelow
    found.push({
      mean: 0,
      sd,
      terms: [
        [j - 1, 1],
        [j, -2],
        [j + 1, 1],
      ],
    })
  }
  const middle = bendWeights(BASIS, -3.5)
  found.push({
    mean: SLOPE_MEAN,
    sd: SLOPE_SD[kind],
    terms: middle.slopes.map((s, j) => [middle.index + j, s] as const),
  })
  const gauge = bendWeights(BASIS, anchor)
  found.push({
    mean: 0,
    sd: 1e-4,
    terms: gauge.weights.map((w, j) => [gauge.index + j, w] as const),
  })
  return found
}
