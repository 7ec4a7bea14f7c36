import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import type { FitPoints } from './fit-points.ts'
import { type NoiseModel, noiseVariance } from './noise.ts'
import { logSurfaceShape } from './surface.ts'
import type { SpectrumSurface } from './types.ts'

/** c2 in um K: the slope of the line is minus this over T. */
const C2_UM_K = SECOND_RADIATION_CONSTANT * 1e6

/** A weighted straight line y = intercept + slope x. */
export interface StraightLine {
  readonly intercept: number
  readonly slope: number
  readonly slopeUncertainty: number
}

/**
 * Wien's picture of a spectrum: x = 1 / wavelength, y = ln(radiance wavelength^5). A glow lies on a
 * straight line of slope -c2 / T, whatever its scale; what departs from the line is no grey glow.
 */
export interface WienLine {
  /** 1/um. */
  readonly x: readonly number[]
  readonly y: readonly number[]
  /** Standard uncertainty of y by noise. */
  readonly sigma: readonly number[]
  readonly line: StraightLine
  /** From the slope, in Wien's approximation; null where the line does not fall. */
  readonly temperatureK: number | null
  /** By noise alone. */
  readonly standardUncertaintyK: number | null
}

/** A sample takes part when the model stands this many standard deviations above its noise. */
const MIN_SIGNAL_TO_NOISE = 5

/**
 * The line through a corrected spectrum, weighted by its noise. Samples are chosen by the fitted
 * model, not by their own value: choosing those that noise has raised would bend the line. Samples
 * at or below zero have no logarithm and are left out.
 *
 * Wien's approximation drops a share exp(-c2 / (wavelength T)) of the light, more at long waves, so
 * the line is too steep and reads low: by less than that share times c2 / (wavelength T), 0.7 % where
 * wavelength times T is 2100 um K (700 nm at 3000 K).
 *
 * @param radiance any scale
 * @param model the fitted radiance, same scale
 * @returns null when fewer than three samples are left
 */
export function wienLine(
  wavelengthNm: ArrayLike<number>,
  radiance: ArrayLike<number>,
  sigma: ArrayLike<number>,
  model: ArrayLike<number>,
): WienLine | null {
  const x: number[] = []
  const y: number[] = []
  const spread: number[] = []
  for (let i = 0; i < wavelengthNm.length; i++) {
    if (!(model[i]! > MIN_SIGNAL_TO_NOISE * sigma[i]! && radiance[i]! > 0)) continue
    const um = wavelengthNm[i]! / 1000
    x.push(1 / um)
    y.push(Math.log(radiance[i]!) + 5 * Math.log(um))
    spread.push(sigma[i]! / model[i]!)
  }
  const line = straightLine(x, y, spread)
  if (line === null) return null
  const temperatureK = line.slope < 0 ? -C2_UM_K / line.slope : null
  return {
    x,
    y,
    sigma: spread,
    line,
    temperatureK,
    standardUncertaintyK:
      temperatureK === null ? null : (temperatureK ** 2 / C2_UM_K) * line.slopeUncertainty,
  }
}

/** Weighted least squares of a straight line; null for fewer than three points or one abscissa. */
export function straightLine(
  x: readonly number[],
  y: readonly number[],
  sigma: readonly number[],
): StraightLine | null {
  if (x.length < 3) return null
  let s = 0
  let sx = 0
  let sy = 0
  for (let i = 0; i < x.length; i++) {
    const w = sigma[i]! ** -2
    s += w
    sx += w * x[i]!
    sy += w * y[i]!
  }
  const xMean = sx / s
  const yMean = sy / s
  let sxx = 0
  let sxy = 0
  for (let i = 0; i < x.length; i++) {
    const w = sigma[i]! ** -2
    sxx += w * (x[i]! - xMean) ** 2
    sxy += w * (x[i]! - xMean) * (y[i]! - yMean)
  }
  if (!(sxx > 0)) return null
  const slope = sxy / sxx
  return { intercept: yMean - slope * xMean, slope, slopeUncertainty: 1 / Math.sqrt(sxx) }
}

/** A start needs no more samples than this. */
const START_SAMPLES = 128

/** Mired to begin a fit with: the same line through the signal over its response; else 1500 K. */
export function wienStart(points: FitPoints, noise: NoiseModel, surface: SpectrumSurface): number {
  const shape = logSurfaceShape(surface)
  const x: number[] = []
  const y: number[] = []
  const spread: number[] = []
  const step = Math.max(1, Math.floor(points.nm.length / START_SAMPLES))
  for (let i = 0; i < points.nm.length; i += step) {
    const signal = points.signal[i]!
    const variance = noiseVariance(noise, signal) / (signal * signal)
    const relative = Math.sqrt(variance + points.responseNoise[i]! ** 2 + points.lampStray[i]! ** 2)
    if (!(signal > 0 && relative < 0.2)) continue
    const um = points.nm[i]! / 1000
    const emissivity = shape(points.nm[i]!, 2000) + surface.lnGreenOverRed * points.position[i]!
    x.push(1 / um)
    y.push(Math.log(signal) + 5 * Math.log(um) - points.logFactor[i]! - emissivity)
    spread.push(relative)
  }
  const line = straightLine(x, y, spread)
  return line !== null && line.slope < 0 ? (-1e6 * line.slope) / C2_UM_K : 1e6 / 1500
}
