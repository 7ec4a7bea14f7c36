/**
 * What reading and references say of a camera: each one's residual, the loading of the problem's
 * coefficients in it, and the variance of its own errors.
 */
import { type Observation, padded } from './conditioning.ts'
import { type GlowProblem, groupKey, pieceKey } from './glow-problem.ts'
import type { MeasuredRatio } from './measured-ratio.ts'
import {
  type BlueEquation,
  blueEquation,
  type RatioEquation,
  ratioEquation,
} from './ratio-equation.ts'
import type { BudgetTerm } from './types.ts'

/** Loading of the coefficients in an equation of one photo; ends with the last that is not 0. */
function loadingOf(
  problem: GlowProblem,
  measured: MeasuredRatio,
  equation: RatioEquation,
): readonly number[] {
  const { camera } = equation
  if (measured.shared.length === 0 && measured.surface.piece === undefined) return camera
  const loading = padded(camera, problem.coefficients.length)
  for (const { key, standardUncertainty } of measured.shared)
    loading[problem.places.get(key)!] = standardUncertainty * equation.gain
  const { piece } = measured.surface
  if (piece !== undefined) loading[problem.places.get(pieceKey(piece))!] = equation.surface
  return loading
}

/** A photo's own errors by cause: a surface that is not the very piece of another photo errs alone. */
export function ownVariances(
  { own, surface }: MeasuredRatio,
  equation: RatioEquation,
): { readonly term: BudgetTerm; readonly variance: number }[] {
  const list = own.map(({ term, variance }) => ({ term, variance: variance * equation.gain ** 2 }))
  if (surface.piece === undefined) list.push({ term: 'surface', variance: equation.surface ** 2 })
  return list
}

/** {@link ownVariances} together. */
function ownVariance(
  { own, surface }: MeasuredRatio,
  { gain, surface: by }: RatioEquation,
): number {
  let sum = surface.piece === undefined ? by * by : 0
  for (const { variance } of own) sum += variance * gain * gain
  return sum
}

/** A reference as an observation, with what its errors do. */
export interface ReferenceObservation extends Observation {
  /** Place of the reference among those used. */
  readonly reference: number
  readonly photoVariance: number
  /** What the reference's temperature does when it is one standard uncertainty up; 0 in a group. */
  readonly byTemperature: number
}

/**
 * What the references say, if the shared tone curve and the leak are those of these indices: green of
 * each, then blue of those that have it.
 */
export function referenceObservations(
  problem: GlowProblem,
  curve: number,
  camera: number,
): ReferenceObservation[] {
  const { model } = problem.cameras[camera]!
  const coefficients = problem.coefficients.length
  const greens: ReferenceObservation[] = []
  const blues: ReferenceObservation[] = []
  for (const [index, used] of problem.references.entries()) {
    const { reference, measured, colourTemperatureK, inflation } = used
    const equation = ratioEquation(measured, model, colourTemperatureK, curve)
    const loading = padded(loadingOf(problem, measured, equation), coefficients)
    // d colour temperature / d true temperature = (Tc / T)^2 in Wien's approximation.
    const step = (colourTemperatureK / reference.temperatureK) ** 2 * reference.standardUncertaintyK
    const group = reference.group === null ? null : problem.places.get(groupKey(reference.group))!
    const observation = (
      own: number,
      slope: number,
      residual: number,
      ofPhoto: readonly number[],
    ): ReferenceObservation => {
      const byTemperature = slope * step
      const loading = group === null ? ofPhoto : ofPhoto.with(group, byTemperature)
      const alone = group === null ? byTemperature : 0
      const photoVariance = inflation * Math.max(own, 1e-14)
      const variance = photoVariance + inflation * alone ** 2
      const effect = Math.sqrt(inflation) * alone
      return {
        reference: index,
        residual,
        loading,
        variance,
        photoVariance,
        byTemperature: effect,
      }
    }
    const own = ownVariance(measured, equation)
    const green = observation(own, equation.slope, equation.residual, loading)
    greens.push(green)
    const seen = blueEquation(measured, model, colourTemperatureK, curve)
    if (seen?.kind !== 'value') continue
    const blue = observation(
      seen.variance,
      seen.slope,
      seen.residual,
      padded(seen.camera, coefficients),
    )
    const covariance = green.byTemperature * blue.byTemperature
    blues.push({ ...blue, together: { index, covariance } })
  }
  return [...greens, ...blues]
}

/** A reading's equation at a colour temperature. */
export interface ReadingEquation extends RatioEquation {
  /** May end early: the rest is 0. */
  readonly loading: readonly number[]
  /** Variance of its own errors. */
  readonly variance: number
  readonly blue: BlueEquation | null
}

export function readingEquation(
  problem: GlowProblem,
  colourTemperatureK: number,
  curve: number,
  camera: number,
  reading: MeasuredRatio = problem.reading,
): ReadingEquation {
  const seenBy = problem.cameras[camera]!
  const model = reading.infrared === 1 ? seenBy.model : seenBy.through(reading.infrared)
  const equation = ratioEquation(reading, model, colourTemperatureK, curve)
  const blue = blueEquation(reading, model, colourTemperatureK, curve)
  const { residual, slope, cameraSlopes, gain, surface } = equation
  // Field by field: objects that are spread make the whole estimate three times slower.
  return {
    residual,
    camera: equation.camera,
    slope,
    cameraSlopes,
    gain,
    surface,
    loading: loadingOf(problem, reading, equation),
    variance: ownVariance(reading, equation),
    blue,
  }
}
