/**
 * The reading and the references that count for it, put together as one linear problem with shared
 * errors as coefficients.
 */
import { type BalancedColour, balanceP3, balanceRawWithMatrix } from './balanced-colour.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { type CameraModel, cameraModel, sameBalance, type Tail } from './camera-model.ts'
import type { Observation } from './conditioning.ts'
import {
  colourTemperatureOf,
  type MeasuredRatio,
  measuredRatio,
  type RatioEquation,
  ratioEquation,
  type SharedCurve,
} from './measured-ratio.ts'
import { TONE_CURVES } from './tone-curve-prior.ts'
import type { ToneHypothesis } from './tone-hypothesis.ts'
import type { BudgetTerm, GlowInput, KnownHeatReference, ReferenceStatus } from './types.ts'

/** A number common to several photos: part of the camera, or an error that they share. */
export interface Coefficient {
  readonly term: BudgetTerm
  readonly tail: Tail
}

export interface UsedReference {
  readonly reference: KnownHeatReference
  readonly colour: BalancedColour
  readonly measured: MeasuredRatio
  /** Colour temperature of its surface, K. */
  readonly colourTemperatureK: number
  /** Factor on its own variance: above 1 for one that conflicts with the others. */
  readonly inflation: number
}

export interface GlowProblem {
  readonly model: CameraModel
  readonly coefficients: readonly Coefficient[]
  readonly curves: readonly ToneHypothesis[]
  readonly colour: BalancedColour
  readonly reading: MeasuredRatio
  /** Further readings by this camera, whose shared errors have places here too. */
  readonly others: readonly MeasuredRatio[]
  readonly references: readonly UsedReference[]
  /** Why each of the others does not count. */
  readonly unused: readonly { reference: KnownHeatReference; status: ReferenceStatus }[]
  /** Position of each shared error among the coefficients. */
  readonly places: ReadonlyMap<string, number>
}

const LINEAR: readonly ToneHypothesis[] = [
  { kind: 'ratio', contrast: 1, shoulder: 0, toe: 0, exponent: 1, weight: 1 },
]

/** Which of a reading's references can speak about it. */
export function referenceStatus(
  reference: KnownHeatReference,
  input: Pick<GlowInput, 'cameraId' | 'channels' | 'balanceState'>,
): ReferenceStatus | null {
  if (reference.cameraId !== input.cameraId) return 'other camera'
  if (reference.channels !== input.channels) return 'other channels'
  const fixed = (kind: string) => kind !== 'automatic' && kind !== 'unknown'
  if (!fixed(reference.balanceState.kind) || !fixed(input.balanceState.kind))
    return 'white balance not fixed'
  if (!sameBalance(reference.balanceState, input.balanceState)) return 'other white balance'
  return null
}

/**
 * Puts reading and references together. The reading's red must be above 0.
 *
 * @param others further readings by the same camera in the same state
 */
export function glowProblem(
  input: GlowInput,
  locus: CameraLocus,
  others: readonly GlowInput[] = [],
): GlowProblem {
  const matrix = input.channels === 'camera' ? input.cameraToXyz : null
  const managed = input.channels === 'display-p3' || matrix !== null
  const model = cameraModel(locus, managed ? 'display-p3' : 'camera', input.balanceState)
  const balanced = (photo: Pick<GlowInput, 'glow' | 'balance' | 'balanceState'>) =>
    matrix === null
      ? balanceP3(photo.glow, photo.balance, photo.balanceState)
      : balanceRawWithMatrix(photo.glow, photo.balance, matrix)

  const sharedCurve = sharedCurveOf(input)
  const colour = balanced(input)
  const measuredReading = (of: GlowInput, seen: BalancedColour) =>
    measuredRatio(
      seen,
      {
        balanceId: of.balance?.id ?? 'none',
        linearity: of.linearity,
        surface: of.surface,
        lnWindow: of.window?.lnGreenOverRed ?? 0,
      },
      model,
      sharedCurve,
    )
  const reading = measuredReading(input, colour)
  const beside = others.map((other) => measuredReading(other, balanced(other)))
  const references: UsedReference[] = []
  const unused: { reference: KnownHeatReference; status: ReferenceStatus }[] = []
  for (const reference of input.references) {
    const status = referenceStatus(reference, input)
    if (status !== null) {
      unused.push({ reference, status })
      continue
    }
    const seen = balanced(reference)
    const colourTemperatureK = colourTemperatureOf(
      reference.temperatureK,
      reference.surface.lnGreenOverRed,
    )
    const within = colourTemperatureK >= model.coldestK && colourTemperatureK <= model.hottestK
    // In a photo green at 0 is a bound; raw green may truly be negative after the matrix.
    const green = seen.green > 0 || (matrix !== null && model.scale === 'linear')
    if (!(within && green && reference.glow.mean[0] > 0)) {
      unused.push({ reference, status: 'out of range' })
      continue
    }
    const measured = measuredRatio(
      seen,
      {
        balanceId: reference.balance?.id ?? 'none',
        linearity: reference.linearity,
        surface: reference.surface,
        lnWindow: 0,
      },
      model,
      sharedCurve,
    )
    references.push({ reference, colour: seen, measured, colourTemperatureK, inflation: 1 })
  }
  const coefficients: Coefficient[] = model.tails.map((tail) => ({ term: 'camera', tail }))
  const places = new Map<string, number>()
  const place = (key: string, term: BudgetTerm) => {
    if (places.has(key)) return
    places.set(key, coefficients.length)
    coefficients.push({ term, tail: null })
  }
  const readings = [reading, ...beside].map((measured) => ({ measured, reference: null }))
  for (const { measured, reference } of [...readings, ...references]) {
    for (const { key, term } of measured.shared) place(key, term)
    place(`surface ${measured.surface.id}`, 'surface')
    if (reference?.group) place(`group ${reference.group}`, 'reference temperature')
  }
  const curves =
    readings.some(isCorrected) || references.some(isCorrected) ? sharedCurve.curves : LINEAR
  return {
    model,
    coefficients,
    curves,
    colour,
    reading,
    others: beside,
    references,
    unused,
    places,
  }
}

const isCorrected = ({ measured }: { readonly measured: MeasuredRatio }) =>
  measured.corrections.length > 0

/** The unknown curve of the reading, else that of the first reference taken as a single photo. */
function sharedCurveOf(input: GlowInput): SharedCurve {
  for (const { linearity } of [input, ...input.references])
    if (linearity.kind === 'single') return { curveId: linearity.curveId, curves: TONE_CURVES }
  return { curveId: '', curves: TONE_CURVES }
}

/** Loading of all coefficients in an equation of one photo. */
function fullLoading(
  problem: GlowProblem,
  measured: MeasuredRatio,
  equation: RatioEquation,
): number[] {
  const loading = problem.coefficients.map((_, k) => equation.camera[k] ?? 0)
  for (const { key, standardUncertainty } of measured.shared)
    loading[problem.places.get(key)!] = standardUncertainty * equation.gain
  loading[problem.places.get(`surface ${measured.surface.id}`)!] = equation.surface
  return loading
}

/** A reference as an observation, with its variance by cause. */
export interface ReferenceObservation extends Observation {
  readonly photoVariance: number
  readonly temperatureVariance: number
  /** What the reference's temperature does when it is one standard uncertainty up; 0 in a group. */
  readonly byTemperature: number
}

/** What the references say, if the shared tone curve is the one of this index. */
export function referenceObservations(problem: GlowProblem, curve: number): ReferenceObservation[] {
  return problem.references.map((used) => {
    const { reference, measured, colourTemperatureK, inflation } = used
    const equation = ratioEquation(measured, problem.model, colourTemperatureK, curve)
    const loading = fullLoading(problem, measured, equation)
    // d colour temperature / d true temperature = (Tc / T)^2 in Wien's approximation.
    const byTemperature =
      equation.slope *
      (colourTemperatureK / reference.temperatureK) ** 2 *
      reference.standardUncertaintyK
    let temperatureVariance = 0
    if (reference.group === null) temperatureVariance = inflation * byTemperature ** 2
    else loading[problem.places.get(`group ${reference.group}`)!] = byTemperature
    const own = measured.own.reduce((sum, { variance }) => sum + variance, 0)
    const photoVariance = inflation * Math.max(own * equation.gain ** 2, 1e-14)
    return {
      residual: equation.residual,
      loading,
      variance: photoVariance + temperatureVariance,
      photoVariance,
      temperatureVariance,
      byTemperature: reference.group === null ? Math.sqrt(inflation) * byTemperature : 0,
    }
  })
}

/** A reading's equation at a colour temperature. */
export interface ReadingEquation extends RatioEquation {
  readonly loading: readonly number[]
  /** Variance of its own errors. */
  readonly variance: number
}

export function readingEquation(
  problem: GlowProblem,
  colourTemperatureK: number,
  curve: number,
  reading: MeasuredRatio = problem.reading,
): ReadingEquation {
  const equation = ratioEquation(reading, problem.model, colourTemperatureK, curve)
  const own = reading.own.reduce((sum, { variance }) => sum + variance, 0)
  return {
    ...equation,
    loading: fullLoading(problem, reading, equation),
    variance: own * equation.gain ** 2,
  }
}
