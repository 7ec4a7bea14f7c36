import { invertPositive } from '../../numerics/linear-algebra.ts'
import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import type { FitPoints } from './fit-points.ts'
import { type NoiseModel, noiseVariance } from './noise.ts'
import { logSurfaceShape } from './surface.ts'
import type { PedestalPrior, SpectrumSurface } from './types.ts'
import { wienStart } from './wien-line.ts'

/** c2 in nm and reciprocal megakelvin: c2 / (wavelength T) is this times mired over nm. */
const C2_NM_PER_MIRED = SECOND_RADIATION_CONSTANT * 1e3
/** Temperatures that a fit may take, as mired: 50000 K and 400 K. */
const MIRED_RANGE: readonly [number, number] = [20, 2500]
const MAX_STEPS = 80
/** Relative step of the mired at which the fit stands still. */
const STILL = 1e-11

/** Order of the parameters in steps, gains and priors. */
export const SCALE = 0
export const MIRED = 1
export const PEDESTAL = 2
export const SLOPE = 3

export interface PlanckFit {
  readonly mired: number
  /** ln(emissivity at 550 nm / at 650 nm) on top of the surface's own shape. */
  readonly slope: number
  /** Even pedestal, signal units. */
  readonly pedestal: number
  /** The glow's part of the signal at each point, without pedestal. */
  readonly glow: Float64Array
  /** Derivatives of the signal at each point by the parameters, in the order above. */
  readonly columns: readonly Float64Array[]
  /** Variance of noise at each point: signal's and response's. */
  readonly noise: Float64Array
  /** Weight of each point in the fit. */
  readonly weight: Float64Array
  /** Inverse of the normal matrix, parameters in the order above; without slope where it is known. */
  readonly inverse: readonly (readonly number[])[]
}

export interface FitOptions {
  readonly surface: SpectrumSurface
  /** Prior of the pedestal, signal units; uncertainty > 0. */
  readonly pedestal: PedestalPrior
  readonly noise: NoiseModel
}

/**
 * Weighted least squares of a scale times Planck's law times the surface's emissivity, plus an even
 * pedestal, to the signal itself (not its logarithm: weak samples stay unbiased).
 *
 * Free: scale and mired. With a prior: the pedestal, and the slope of emissivity where its
 * uncertainty is above 0. Weights are the inverse of the noise (the model's, not the sample's own) and
 * of the stray light in the response, so that wavelengths where the lamp gave little do not lead.
 *
 * @param startMired where to begin; without it Wien's line through the signal says
 * @returns null where no temperature from 400 to 50000 K stands still, or under four points
 * Method: Gauss-Newton with step halving, weights renewed at every step.
 */
export function fitPlanck(
  points: FitPoints,
  options: FitOptions,
  startMired?: number,
): PlanckFit | null {
  const count = points.nm.length
  if (count < 4) return null
  const { surface, pedestal } = options
  const slopeFree = surface.standardUncertainty > 0
  const shape = logSurfaceShape(surface)
  const glow = new Float64Array(count)
  const glowByMired = new Float64Array(count)
  const glowByPosition = new Float64Array(count)
  const columns = [glow, glowByMired, new Float64Array(count).fill(1), glowByPosition]
  if (!slopeFree) columns.pop()
  const noise = new Float64Array(count)
  const weight = new Float64Array(count)
  const residual = new Float64Array(count)
  const logInverseFifth = points.nm.map((nm) => -5 * Math.log(nm / 600))
  const logReference = points.logFactor.reduce((most, value) => Math.max(most, value), -Infinity)

  /** Fills the columns for parameters [scale, mired, pedestal, slope]. */
  const evaluate = (p: readonly number[]) => {
    const mired = p[MIRED]!
    for (let i = 0; i < count; i++) {
      const nm = points.nm[i]!
      const c = C2_NM_PER_MIRED / nm
      const photon = -Math.expm1(-c * mired)
      const log = logInverseFifth[i]! - c * mired - Math.log(photon)
      const kelvin = 1e6 / mired
      const emissivity = shape(nm, kelvin) + p[SLOPE]! * points.position[i]!
      glow[i] = Math.exp(p[SCALE]! + log + emissivity + points.logFactor[i]! - logReference)
      // Emissivity changes little with temperature: a difference over 1 % is exact enough.
      const drift =
        surface.spectral === 'grey'
          ? 0
          : (shape(nm, 0.995 * kelvin) - shape(nm, 1.005 * kelvin)) / (0.01 * mired)
      glowByMired[i] = glow[i]! * (drift - c / photon)
      glowByPosition[i] = glow[i]! * points.position[i]!
    }
  }
  const renewWeights = () => {
    for (let i = 0; i < count; i++) {
      const g = glow[i]!
      noise[i] = noiseVariance(options.noise, g) + (g * points.responseNoise[i]!) ** 2
      weight[i] = 1 / (noise[i]! + (g * points.lampStray[i]!) ** 2)
    }
  }
  const cost = (p: readonly number[]) => {
    let sum = ((p[PEDESTAL]! - pedestal.mean) / pedestal.standardUncertainty) ** 2
    if (slopeFree) sum += ((p[SLOPE]! - surface.lnGreenOverRed) / surface.standardUncertainty) ** 2
    for (let i = 0; i < count; i++) {
      sum += weight[i]! * (points.signal[i]! - glow[i]! - p[PEDESTAL]!) ** 2
    }
    return sum
  }

  const start = startMired ?? wienStart(points, options.noise, surface)
  let p: number[] = [0, Math.min(Math.max(start, 50), 1800), pedestal.mean, surface.lnGreenOverRed]
  evaluate(p)
  p[SCALE] = bestLogScale(points.signal, glow)
  evaluate(p)
  let inverse: number[][] | null = null
  for (let step = 0; ; step++) {
    renewWeights()
    for (let i = 0; i < count; i++) residual[i] = points.signal[i]! - glow[i]! - p[PEDESTAL]!
    const { normal, gradient } = normalEquations(columns, weight, residual, p, options)
    inverse = invertPositive(normal)
    if (inverse === null) return null
    const move = inverse.map((row) => row.reduce((sum, value, j) => sum + value * gradient[j]!, 0))
    if (Math.abs(move[MIRED]!) <= STILL * p[MIRED]!) break
    if (step === MAX_STEPS) return null
    const before = cost(p)
    let share = Math.min(1, (0.3 * p[MIRED]!) / Math.abs(move[MIRED]!))
    let next = p
    for (let halving = 0; halving < 30; halving++) {
      next = p.map((value, j) => value + share * (move[j] ?? 0))
      evaluate(next)
      const after = cost(next)
      // Near the end the cost only wavers by rounding.
      if (after <= before * (1 + 1e-12)) break
      share /= 2
    }
    const stuck = Math.abs(next[MIRED]! - p[MIRED]!) <= STILL * p[MIRED]!
    p = next
    if (!(p[MIRED]! > MIRED_RANGE[0] && p[MIRED]! < MIRED_RANGE[1])) return null
    if (stuck) break
  }
  return {
    mired: p[MIRED]!,
    slope: p[SLOPE]!,
    pedestal: p[PEDESTAL]!,
    glow,
    columns,
    noise,
    weight,
    inverse,
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

/** Normal matrix and gradient of the weighted squares, priors included. */
function normalEquations(
  columns: readonly Float64Array[],
  weight: Float64Array,
  residual: Float64Array,
  p: readonly number[],
  { surface, pedestal }: FitOptions,
): { normal: number[][]; gradient: number[] } {
  const normal = columns.map((a) => columns.map((b) => weightedProduct(weight, a, b)))
  const gradient = columns.map((a) => weightedProduct(weight, a, residual))
  const addPrior = (j: number, mean: number, uncertainty: number) => {
    normal[j]![j]! += uncertainty ** -2
    gradient[j]! += (mean - p[j]!) * uncertainty ** -2
  }
  addPrior(PEDESTAL, pedestal.mean, pedestal.standardUncertainty)
  if (columns.length > SLOPE) addPrior(SLOPE, surface.lnGreenOverRed, surface.standardUncertainty)
  return { normal, gradient }
}

function weightedProduct(weight: Float64Array, a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let i = 0; i < weight.length; i++) sum += weight[i]! * a[i]! * b[i]!
  return sum
}
