import { chiSquaredProbability } from '../../numerics/chi-squared.ts'
import { minimise } from '../../numerics/least-squares.ts'
import { exponentialTemperature } from '../../physics/cooling.ts'
import { curveNoise } from './curve-noise.ts'
import { type HeatCurve, type Readings, readingsOf, stretchesOf } from './heat-curve.ts'

/** How a curve goes, where a law fits. */
export interface LawFit {
  readonly law: /** Newton: the rate goes with the difference to the end. */
    | 'exponential'
    /** Stefan-Boltzmann: the rate goes with the difference of fourth powers. */
    | 'radiative'
  /** Where it leads, K; for radiative cooling the stated surroundings, else fitted. */
  readonly endK: number
  readonly endUncertaintyK: number
  /**
   * Time constant, s. Of the radiative law that for small differences at the middle of the readings'
   * temperatures: 1/(4 k T^3).
   */
  readonly tauSeconds: number
  readonly tauUncertainty: number
  /** dT/dt = k (E^4 - T^4), 1/(K^3 s); null for the exponential. */
  readonly rate: number | null
  readonly rateUncertainty: number | null
  /** Root mean square of the residuals, K. */
  readonly rmsK: number
  /** Largest mean residual of a block of readings, K: the curvature that is left. */
  readonly largestBlockK: number
  /** Chance of residuals as large as these if the law held. */
  readonly probability: number
  readonly fits: boolean
}

/** Readings that are fitted at most. */
const MOST_READINGS = 400
const BLOCKS = 20
/** How far a camera's own scale may bend over a curve; blocks err by it besides their noise, K. */
const BEND_K = 1
/** A law with less chance than this does not fit. */
const LEAST_PROBABILITY = 0.01
/** Readings needed. */
export const LEAST_FOR_LAW = 20
/** Substeps of the radiative law between two readings are at most this change of temperature, K. */
const SUBSTEP_K = 10

type Model = (p: readonly number[]) => Float64Array

/**
 * Both laws fitted to the readings between two times, the better one first. Empty where there are
 * fewer than {@link LEAST_FOR_LAW} readings.
 *
 * @param roomK surroundings into which a body cools by radiation, K
 */
export function fitLaws(
  curve: HeatCurve,
  fromSeconds: number,
  toSeconds: number,
  roomK: number,
): LawFit[] {
  const all = readingsOf(curve, fromSeconds, toSeconds)
  if (all.seconds.length < LEAST_FOR_LAW) return []
  const noise = curveNoise(all)
  const errorK = Math.max(noise.sdK * noise.inflation, 1e-3)
  const readings = thinned(all)
  // Means of blocks err less than single readings.
  const each = errorK * Math.sqrt(readings.seconds.length / all.seconds.length)
  return [fitExponential(readings, each), fitRadiative(readings, each, roomK)]
    .filter((fit) => fit !== null)
    .sort((a, b) => b.probability - a.probability || a.rmsK - b.rmsK)
}

function thinned(readings: Readings): Readings {
  const length = Math.ceil(readings.seconds.length / MOST_READINGS)
  if (length <= 1) return readings
  const [seconds, temperatureK]: [number[], number[]] = [[], []]
  for (const [from, to] of stretchesOf(readings))
    for (let i = from; i + length <= to; i += length) {
      const mean = (v: Float64Array) =>
        v.subarray(i, i + length).reduce((a, b) => a + b, 0) / length
      seconds.push(mean(readings.seconds))
      temperatureK.push(mean(readings.temperatureK))
    }
  return { seconds: Float64Array.from(seconds), temperatureK: Float64Array.from(temperatureK) }
}

function fitExponential(readings: Readings, errorK: number): LawFit | null {
  const { seconds, temperatureK } = readings
  const begin = seconds[0]!
  const span = seconds[seconds.length - 1]! - begin
  const model: Model = ([end, from, lnTau]) =>
    seconds.map((t) => exponentialTemperature(end!, from!, Math.exp(lnTau!), t - begin))
  // End and beginning are linear for a given time constant; a few of them to begin with.
  const starts = [0.1, 0.3, 1, 3].map((share) => {
    const tau = share * span
    const x = seconds.map((t) => Math.exp((begin - t) / tau))
    const [end, height] = lineThrough(x, temperatureK)
    return [end, end + height, Math.log(tau)]
  })
  const fit = best(starts, model, temperatureK, errorK)
  if (!fit) return null
  const [end, , lnTau] = fit.p as [number, number, number]
  const tau = Math.exp(lnTau)
  // A time constant far beyond the recording is a straight line, not a law.
  if (!(end > 0) || tau > 20 * span) return null
  return {
    law: 'exponential',
    endK: end,
    endUncertaintyK: fit.u[0]!,
    tauSeconds: tau,
    tauUncertainty: tau * fit.u[2]!,
    rate: null,
    rateUncertainty: null,
    ...judged(temperatureK, fit, errorK),
  }
}

function fitRadiative(readings: Readings, errorK: number, roomK: number): LawFit | null {
  const { seconds, temperatureK } = readings
  const n = seconds.length
  const warming = temperatureK[n - 1]! > temperatureK[0]!
  const most = temperatureK.reduce((a, b) => Math.max(a, b))
  const model: Model = ([from, lnRate, end = roomK]) =>
    radiativeCourse(seconds, from!, Math.exp(lnRate!), end)
  const span = seconds[n - 1]! - seconds[0]!
  const ends = warming ? [1.01, 1.05, 1.2].map((share) => share * most) : [roomK]
  const starts = ends.flatMap((end) =>
    [0.3, 1, 3].map((share) => {
      const way = Math.abs(temperatureK[n - 1]! - temperatureK[0]!) || 1
      const middle = (temperatureK[n - 1]! + temperatureK[0]!) / 2
      const rate = (share * way) / span / Math.abs(end ** 4 - middle ** 4)
      const p = [temperatureK[0]!, Math.log(rate)]
      return warming ? [...p, end] : p
    }),
  )
  const fit = best(starts, model, temperatureK, errorK)
  if (!fit) return null
  const rate = Math.exp(fit.p[1]!)
  const middle = temperatureK.reduce((a, b) => a + b, 0) / n
  const tau = 1 / (4 * rate * middle ** 3)
  return {
    law: 'radiative',
    endK: warming ? fit.p[2]! : roomK,
    endUncertaintyK: warming ? fit.u[2]! : 0,
    tauSeconds: tau,
    tauUncertainty: tau * fit.u[1]!,
    rate,
    rateUncertainty: rate * fit.u[1]!,
    ...judged(temperatureK, fit, errorK),
  }
}

/** dT/dt = k (E^4 - T^4) from the first of the times on, by Runge and Kutta's fourth order. */
export function radiativeCourse(
  seconds: ArrayLike<number>,
  fromK: number,
  rate: number,
  endK: number,
): Float64Array {
  const end4 = endK ** 4
  const slope = (t: number) => rate * (end4 - t * t * t * t)
  const course = new Float64Array(seconds.length)
  let now = fromK
  course[0] = now
  for (let i = 1; i < seconds.length; i++) {
    const step = seconds[i]! - seconds[i - 1]!
    const parts = Math.min(64, Math.max(1, Math.ceil(Math.abs(slope(now) * step) / SUBSTEP_K)))
    const h = step / parts
    for (let k = 0; k < parts; k++) {
      const a = slope(now)
      const b = slope(now + (h / 2) * a)
      const c = slope(now + (h / 2) * b)
      const d = slope(now + h * c)
      now += (h / 6) * (a + 2 * b + 2 * c + d)
    }
    course[i] = now
  }
  return course
}

/** y = a + b x by least squares. */
function lineThrough(x: Float64Array, y: Float64Array): [number, number] {
  const n = x.length
  const [mx, my] = [x, y].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number]
  let [xx, xy] = [0, 0]
  for (let i = 0; i < n; i++) {
    xx += (x[i]! - mx) ** 2
    xy += (x[i]! - mx) * (y[i]! - my)
  }
  const b = xx > 0 ? xy / xx : 0
  return [my - b * mx, b]
}

interface Fit {
  readonly p: readonly number[]
  /** Standard uncertainties of the parameters. */
  readonly u: readonly number[]
  readonly residuals: Float64Array
  readonly squares: number
}

function best(
  starts: readonly (readonly number[])[],
  model: Model,
  y: Float64Array,
  errorK: number,
): Fit | null {
  return starts
    .map((start) => descend(start, model, y, errorK))
    .reduce<Fit | null>((a, b) => (b && (!a || b.squares < a.squares) ? b : a), null)
}

/** Least squares from one beginning; null where it does not lead to an answer. */
function descend(
  start: readonly number[],
  model: Model,
  y: Float64Array,
  errorK: number,
): Fit | null {
  const residualsAt = (p: readonly number[]) => model(p).map((value, i) => (value - y[i]!) / errorK)
  try {
    const { parameters, covariance } = minimise(Float64Array.from(start), (at) => {
      const p = [...at]
      const value = residualsAt(p)
      const columns = p.map((v, k) => {
        const h = 1e-5 * Math.max(Math.abs(v), 1)
        return residualsAt(p.with(k, v + h)).map((r, i) => (r - value[i]!) / h)
      })
      const jacobian = Array.from(value, (_, i) => Float64Array.from(columns, (c) => c[i]!))
      return { value: [...value], jacobian }
    })
    const p = [...parameters]
    const residuals = residualsAt(p).map((r) => -r * errorK)
    const squares = residuals.reduce((sum, r) => sum + r * r, 0)
    if (!Number.isFinite(squares)) return null
    // Where the law does not fit, what is left says more of its numbers than the noise does.
    const widened = Math.max(1, Math.sqrt(squares / Math.max(y.length - p.length, 1)) / errorK)
    return { p, u: covariance.map((row, k) => widened * Math.sqrt(row[k]!)), residuals, squares }
  } catch {
    return null
  }
}

/**
 * Do the residuals look like noise? Means of blocks tell: curvature stays in them, noise does not.
 */
function judged(y: Float64Array, { p, residuals, squares }: Fit, errorK: number) {
  const blocks = Math.min(BLOCKS, Math.floor(y.length / 2))
  let chi = 0
  let largestBlockK = 0
  for (let k = 0; k < blocks; k++) {
    const from = Math.floor((k * y.length) / blocks)
    const to = Math.floor(((k + 1) * y.length) / blocks)
    const mean = residuals.subarray(from, to).reduce((a, b) => a + b, 0) / (to - from)
    chi += mean ** 2 / (errorK ** 2 / (to - from) + BEND_K ** 2)
    if (Math.abs(mean) > Math.abs(largestBlockK)) largestBlockK = mean
  }
  const probability = chiSquaredProbability(chi, Math.max(1, blocks - p.length))
  const rmsK = Math.sqrt(squares / y.length)
  return { rmsK, largestBlockK, probability, fits: probability >= LEAST_PROBABILITY }
}
