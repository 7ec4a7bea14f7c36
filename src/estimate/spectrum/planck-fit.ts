import { invertPositive } from '../../numerics/linear-algebra.ts'
import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import type { Bins } from './bins.ts'
import type { FitCause } from './causes.ts'
import type { FitPoints } from './fit-points.ts'
import { type NoiseModel, noiseVariance } from './noise.ts'
import { normalMatrix, weightedSum } from './normal-matrix.ts'
import { tiltOver, unevenness } from './pedestal.ts'
import type { ShapeBasis, ShapeSizes } from './shape-error.ts'
import { logSurfaceShape } from './surface.ts'
import type { PedestalPrior, SpectrumSurface } from './types.ts'
import { wienStart } from './wien-line.ts'

/** c2 in nm and reciprocal megakelvin: c2 / (wavelength T) is this times mired over nm. */
const C2_NM_PER_MIRED = SECOND_RADIATION_CONSTANT * 1e3
/** Temperatures that a fit may take, as mired: 50000 K and 400 K. */
const MIRED_RANGE: readonly [number, number] = [20, 2500]
const MAX_STEPS = 80

/** Order of the first parameters; causes and then the shape's coefficients follow. */
export const SCALE = 0
export const MIRED = 1
export const PEDESTAL = 2
export const SLOPE = 3
export const TILT = 4
export const CAUSES = 5

export interface PlanckFit {
  readonly mired: number
  /** ln(emissivity at 550 nm / at 650 nm) on top of the surface's own shape. */
  readonly slope: number
  /** Even part of the pedestal, signal units, and the pedestal at each point. */
  readonly pedestal: number
  readonly zero: Float64Array
  /** All parameters, in the order above. */
  readonly parameters: readonly number[]
  /** The glow's part of the signal at each point, causes and shape included, without pedestal. */
  readonly glow: Float64Array
  /** What causes and shape add to ln(signal) at each point. */
  readonly departure: Float64Array
  /** Variance of noise at each point: signal's and response's. */
  readonly noise: Float64Array
  /** Relative residual of each bin, its variance by noise, its weight in the fit. */
  readonly residual: Float64Array
  readonly residualNoise: Float64Array
  readonly weight: Float64Array
  /** Derivatives of ln(signal) in each bin, one column a parameter. */
  readonly columns: readonly Float64Array[]
  /** Prior of each parameter; infinite uncertainty: none. */
  readonly priors: readonly PedestalPrior[]
  /** Inverse of the normal matrix with the priors in it: the covariance of the parameters. */
  readonly covariance: readonly (readonly number[])[]
}

export interface FitOptions {
  readonly surface: SpectrumSurface
  /** Prior of the pedestal, signal units; uncertainty > 0. */
  readonly pedestal: PedestalPrior
  readonly noise: NoiseModel
  readonly causes: readonly FitCause[]
  readonly basis: ShapeBasis
  readonly sizes: ShapeSizes
  /** Relative step of the mired at which the fit stands still. */
  readonly still: number
}

/** Stands for a parameter that is known. */
const KNOWN = 1e-12
const FREE: PedestalPrior = { mean: 0, standardUncertainty: Number.POSITIVE_INFINITY }

/**
 * Generalised least squares of a scale times Planck's law times the surface's emissivity, plus an
 * even pedestal, to the signal itself (not its logarithm: weak samples stay unbiased), with every
 * cause of error as a parameter of its own.
 *
 * Free: scale and mired. With a prior: the pedestal and its tilt, the slope of emissivity, each cause (mean 0,
 * standard uncertainty 1), and the coefficients of a smooth departure. Samples go in by bins of some
 * nanometres: in each the relative departure that fits them best, with the variance that noise
 * leaves it and one more for what is too fine to model. So a thousand samples more do not make the
 * model any truer.
 *
 * @param startMired where to begin; without it Wien's line through the signal says
 * @returns null where no temperature from 400 to 50000 K stands still, or under four bins
 * Method: Gauss-Newton with step halving, weights renewed at every step. Priors on departures as in
 *   Kennedy & O'Hagan 2001 (J. R. Stat. Soc. B 63, 425), linearised.
 */
export function fitPlanck(
  points: FitPoints,
  bins: Bins,
  options: FitOptions,
  startMired?: number,
): PlanckFit | null {
  const count = points.nm.length
  const binCount = bins.nm.length
  if (binCount < 4) return null
  const { surface, sizes, causes, basis } = options
  const fineVariance = sizes.fine ** 2
  const shape = logSurfaceShape(surface)
  const glow = new Float64Array(count)
  const logByMired = new Float64Array(count)
  const departure = new Float64Array(count)
  const noise = new Float64Array(count)
  /** What makes the residual of a bin of those of its samples. */
  const share = new Float64Array(count)
  const residual = new Float64Array(binCount)
  const residualNoise = new Float64Array(binCount)
  const weight = new Float64Array(binCount)
  const tilt = tiltOver(points.nm)
  const zero = new Float64Array(count)
  const logInverseFifth = points.nm.map((nm) => -5 * Math.log(nm / 600))
  const logReference = points.logFactor.reduce((most, value) => Math.max(most, value), -Infinity)

  const columns = [
    new Float64Array(binCount).fill(1),
    new Float64Array(binCount),
    new Float64Array(binCount),
    new Float64Array(binCount),
    new Float64Array(binCount),
    ...causes.map(({ change }) => change),
    ...basis.functions,
  ]
  const priors: PedestalPrior[] = [
    FREE,
    FREE,
    options.pedestal,
    { mean: surface.lnGreenOverRed, standardUncertainty: surface.standardUncertainty || KNOWN },
    { mean: 0, standardUncertainty: unevenness(options.pedestal) },
    ...causes.map(() => ({ mean: 0, standardUncertainty: 1 })),
    ...Array.from(basis.deviation, (deviation) => ({
      mean: 0,
      standardUncertainty: deviation * sizes.smooth || KNOWN,
    })),
  ]
  const size = columns.length

  const evaluate = (p: readonly number[]) => {
    const mired = p[MIRED]!
    const kelvin = 1e6 / mired
    for (let b = 0; b < binCount; b++) {
      let added = 0
      for (let j = CAUSES; j < size; j++) added += p[j]! * columns[j]![b]!
      for (let i = bins.start[b]!; i < bins.start[b + 1]!; i++) departure[i] = added
    }
    for (let i = 0; i < count; i++) {
      const nm = points.nm[i]!
      const c = C2_NM_PER_MIRED / nm
      const photon = -Math.expm1(-c * mired)
      const planck = logInverseFifth[i]! - c * mired - Math.log(photon)
      const emissivity = shape(nm, kelvin) + p[SLOPE]! * points.position[i]!
      const log = p[SCALE]! + planck + emissivity + points.logFactor[i]! - logReference
      glow[i] = Math.exp(log + departure[i]!)
      zero[i] = p[PEDESTAL]! + p[TILT]! * tilt[i]!
      // Emissivity changes little with temperature: a difference over 1 % is exact enough.
      const drift =
        surface.spectral === 'grey'
          ? 0
          : (shape(nm, 0.995 * kelvin) - shape(nm, 1.005 * kelvin)) / (0.01 * mired)
      logByMired[i] = drift - c / photon
    }
  }
  /** Weights, and with them what a bin's residual is made of, for the model as it stands. */
  const renewWeights = () => {
    for (let b = 0; b < binCount; b++) {
      let squares = 0
      for (let i = bins.start[b]!; i < bins.start[b + 1]!; i++) {
        const g = glow[i]!
        noise[i] = noiseVariance(options.noise, g) + (g * points.responseNoise[i]!) ** 2
        share[i] = g / noise[i]!
        squares += share[i]! * g
      }
      // A bin without any light of the model has no weight.
      const inverse = squares > 1e-12 ? 1 / squares : 0
      residualNoise[b] = inverse > 0 ? inverse : 1e12
      weight[b] = inverse > 0 ? 1 / (inverse + fineVariance) : 0
      let byMired = 0
      let byPedestal = 0
      let byTilt = 0
      let bySlope = 0
      for (let i = bins.start[b]!; i < bins.start[b + 1]!; i++) {
        share[i]! *= inverse
        byMired += share[i]! * glow[i]! * logByMired[i]!
        byPedestal += share[i]!
        byTilt += share[i]! * tilt[i]!
        bySlope += share[i]! * glow[i]! * points.position[i]!
      }
      columns[MIRED]![b] = byMired
      columns[PEDESTAL]![b] = byPedestal
      columns[TILT]![b] = byTilt
      columns[SLOPE]![b] = bySlope
    }
  }
  const renewResiduals = () => {
    for (let b = 0; b < binCount; b++) {
      let sum = 0
      for (let i = bins.start[b]!; i < bins.start[b + 1]!; i++) {
        sum += share[i]! * (points.signal[i]! - glow[i]! - zero[i]!)
      }
      residual[b] = sum
    }
  }
  const cost = (p: readonly number[]) => {
    let sum = 0
    renewResiduals()
    for (let b = 0; b < binCount; b++) sum += weight[b]! * residual[b]! ** 2
    for (let j = 0; j < size; j++) {
      sum += ((p[j]! - priors[j]!.mean) / priors[j]!.standardUncertainty) ** 2
    }
    return sum
  }

  const start = startMired ?? wienStart(points, options.noise, surface)
  let p: number[] = priors.map(({ mean }) => mean)
  p[MIRED] = Math.min(Math.max(start, 50), 1800)
  evaluate(p)
  p[SCALE] = bestLogScale(points.signal, glow)
  evaluate(p)
  let covariance: number[][] | null = null
  for (let step = 0; ; step++) {
    renewWeights()
    renewResiduals()
    const normal = normalMatrix(columns, weight)
    priors.forEach(({ standardUncertainty }, j) => {
      normal[j]![j]! += standardUncertainty ** -2
    })
    covariance = invertPositive(normal)
    if (covariance === null) return null
    const gradient = columns.map(
      (column, j) =>
        weightedSum(weight, column, residual) +
        (priors[j]!.mean - p[j]!) * priors[j]!.standardUncertainty ** -2,
    )
    const move = covariance.map((row) =>
      row.reduce((sum, value, j) => sum + value * gradient[j]!, 0),
    )
    if (Math.abs(move[MIRED]!) <= options.still * p[MIRED]!) break
    if (step === MAX_STEPS) return null
    const before = cost(p)
    let part = Math.min(1, (0.3 * p[MIRED]!) / Math.abs(move[MIRED]!))
    let next = p
    for (let halving = 0; halving < 30; halving++) {
      next = p.map((value, j) => value + part * move[j]!)
      evaluate(next)
      const after = cost(next)
      // Near the minimum the cost changes by rounding only.
      if (after <= before * (1 + 1e-12)) break
      part /= 2
    }
    const stuck = Math.abs(next[MIRED]! - p[MIRED]!) <= options.still * p[MIRED]!
    p = next
    if (!(p[MIRED]! > MIRED_RANGE[0] && p[MIRED]! < MIRED_RANGE[1])) return null
    if (stuck) break
  }
  renewResiduals()
  return {
    mired: p[MIRED]!,
    slope: p[SLOPE]!,
    pedestal: p[PEDESTAL]!,
    zero,
    parameters: p,
    glow,
    departure,
    noise,
    residual,
    residualNoise,
    weight,
    columns,
    priors,
    covariance,
  }
}

/** ln of the factor by which the model fits best, samples of large model counting most. */
function bestLogScale(signal: Float64Array, model: Float64Array): number {
  let sm = 0
  let mm = 0
  for (let i = 0; i < signal.length; i++) {
    sm += signal[i]! * model[i]!
    mm += model[i]! ** 2
  }
  return sm > 0 ? Math.log(sm / mm) : 0
}
