import { type Xy, xyCovarianceFromXyz, xyFromXyz } from '../../colour/chromaticity.ts'
import {
  OBSERVER_COUNT,
  OBSERVER_FIRST_NM,
  OBSERVER_STEP_NM,
  X_WEIGHTS,
  Y_WEIGHTS,
  Z_WEIGHTS,
} from '../../colour/observer.ts'
import { colourTemperatureFromXy } from '../../colour/planckian-locus.ts'
import type { Matrix2, Matrix3, Triple } from '../../numerics/matrix3.ts'
import { tabulate } from './arrays.ts'
import { type CorrectedSpectrum, correctedRadiance, type FittedRadiance } from './corrected.ts'
import { interpolate } from './interpolate.ts'
import { shapeBasis } from './shape-error.ts'

/** Shares of X, Y and Z that lie outside the trusted range and were filled from the fit. */
export type MissingShares = Triple

export type ChromaticityCheck =
  | {
      readonly kind: 'chromaticity'
      readonly xy: Xy
      /** Correlated colour temperature, K, and distance from the locus; null where undefined. */
      readonly cctK: number | null
      readonly duv: number | null
      /** Of the temperature, by noise, shape and the fit's own. */
      readonly standardUncertaintyK: number | null
      /** The same for the fit alone: what the spectrum ought to give. */
      readonly fittedCctK: number | null
      /** How far x, y lie from those of the fit, in their standard uncertainties by noise and zero. */
      readonly apart: number
      readonly missing: MissingShares
    }
  /** Too much of the eye's range is missing for a check. */
  | { readonly kind: 'range too short'; readonly missing: MissingShares }

const OBSERVER_NM = tabulate(OBSERVER_COUNT, (k) => OBSERVER_FIRST_NM + k * OBSERVER_STEP_NM)

/** Largest share of Y, and of X + Y + Z, that may come from the fit. */
const MAX_MISSING = 0.05

/**
 * Chromaticity of the corrected spectrum by the CIE 1931 observer: a second look at the same light
 * that weighs it quite otherwise than the fit does. Wavelengths that the instrument does not cover
 * are filled from the fit; their share is told, and above 5 % there is no check.
 *
 * @param hotter the fit by one standard uncertainty of its temperature hotter
 * @param smooth size of what response and surface may depart from the model
 * @param zeroErrors what one standard uncertainty of the zero adds to the spectrum, each way it may be off
 */
export function chromaticityCheck(
  spectrum: CorrectedSpectrum,
  fitted: FittedRadiance,
  hotter: FittedRadiance,
  smooth: number,
  zeroErrors: readonly Float64Array[],
): ChromaticityCheck {
  const weights = [X_WEIGHTS, Y_WEIGHTS, Z_WEIGHTS] as const
  const seen: [number, number, number] = [0, 0, 0]
  const fit: [number, number, number] = [0, 0, 0]
  const filled: [number, number, number] = [0, 0, 0]
  const covariance = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ]
  const halfWidth = bandHalfWidth(spectrum)
  const basis = shapeBasis(OBSERVER_NM)
  /** What one standard deviation of each of its functions adds to X, Y and Z. */
  const byHeat: [number, number, number] = [0, 0, 0]
  const byShape = basis.functions.map(() => [0, 0, 0] as [number, number, number])
  const byZero = zeroErrors.map(() => [0, 0, 0] as [number, number, number])
  for (let k = 0; k < OBSERVER_COUNT; k++) {
    const nm = OBSERVER_FIRST_NM + k * OBSERVER_STEP_NM
    const model = fitted(nm)
    const band = correctedRadiance(spectrum, fitted, nm, halfWidth)
    weights.forEach((weight, a) => {
      fit[a]! += weight[k]! * model
      byHeat[a]! += weight[k]! * (hotter(nm) - model)
      seen[a]! += weight[k]! * (band?.radiance ?? model)
      if (band === null) {
        filled[a]! += weight[k]! * model
        return
      }
      basis.functions.forEach((values, f) => {
        byShape[f]![a]! += weight[k]! * model * values[k]!
      })
      zeroErrors.forEach((error, e) => {
        byZero[e]![a]! += weight[k]! * interpolate(spectrum.wavelengthNm, error, nm)
      })
    })
    weights.forEach((weight, a) => {
      weights.forEach((other, b) => {
        covariance[a]![b]! += weight[k]! * other[k]! * (band?.sigma ?? 0) ** 2
      })
    })
  }
  const addCause = (added: readonly number[], variance: number) => {
    for (let a = 0; a < 3; a++)
      for (let b = 0; b < 3; b++) covariance[a]![b]! += variance * added[a]! * added[b]!
  }
  for (const added of byZero) addCause(added, 1)
  const byNoise = xyCovarianceFromXyz(seen, covariance as unknown as Matrix3)
  addCause(byHeat, 1)
  byShape.forEach((added, f) => {
    addCause(added, (basis.deviation[f]! * smooth) ** 2)
  })
  const share = (a: 0 | 1 | 2) => filled[a] / fit[a]
  const missing: MissingShares = [share(0), share(1), share(2)]
  const all = (filled[0] + filled[1] + filled[2]) / (fit[0] + fit[1] + fit[2])
  const xy = xyFromXyz(seen)
  if (!(missing[1] <= MAX_MISSING && all <= MAX_MISSING) || xy === undefined) {
    return { kind: 'range too short', missing }
  }
  const fitXy = xyFromXyz(fit) ?? xy
  const own = colourTemperatureFromXy(xy)
  const expected = colourTemperatureFromXy(fitXy)
  const spread = xyCovarianceFromXyz(seen, covariance as unknown as Matrix3)
  const cctK = own.kind === 'near' ? own.temperatureK : null
  return {
    kind: 'chromaticity',
    xy,
    cctK,
    duv: own.kind === 'near' ? own.duv : null,
    standardUncertaintyK: cctK === null || !spread ? null : cctUncertainty(xy, cctK, spread),
    fittedCctK: expected.kind === 'near' ? expected.temperatureK : null,
    apart: byNoise ? distance([xy.x - fitXy.x, xy.y - fitXy.y], byNoise) : Number.MAX_VALUE,
    missing,
  }
}

/** Length of a vector in standard deviations of its covariance (Mahalanobis). */
function distance([x, y]: readonly [number, number], [[a, b], [, d]]: Matrix2): number {
  const determinant = a * d - b * b
  if (!(determinant > 0)) return Number.MAX_VALUE
  return Math.sqrt(Math.max(0, (d * x * x - 2 * b * x * y + a * y * y) / determinant))
}

/** Half of the observer's step, or of the samples' own where they are coarser. */
function bandHalfWidth({ wavelengthNm }: CorrectedSpectrum): number {
  const step =
    (wavelengthNm[wavelengthNm.length - 1]! - wavelengthNm[0]!) / (wavelengthNm.length - 1)
  return Math.max(OBSERVER_STEP_NM / 2, step * 0.75)
}

function cctUncertainty(xy: Xy, cctK: number, spread: Matrix2): number | null {
  const step = 1e-5
  const moved = (dx: number, dy: number) => {
    const there = colourTemperatureFromXy({ x: xy.x + dx, y: xy.y + dy })
    return there.kind === 'near' ? (there.temperatureK - cctK) / step : Number.NaN
  }
  const gx = moved(step, 0)
  const gy = moved(0, step)
  const variance = gx * gx * spread[0][0] + 2 * gx * gy * spread[0][1] + gy * gy * spread[1][1]
  return variance >= 0 ? Math.sqrt(variance) : null
}
