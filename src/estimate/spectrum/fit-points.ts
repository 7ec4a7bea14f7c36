import { tabulate } from './arrays.ts'
import { resample, sameGrid, segmentOf } from './interpolate.ts'
import { lampSensitivity } from './lamp.ts'
import type { NetSignal } from './net-signal.ts'
import { slopePosition } from './surface.ts'
import { logSlopes } from './trusted-range.ts'
import type { InstrumentResponse, SpectrumWindow, TrustedRange } from './types.ts'
import { logTransmittance } from './windows.ts'

/**
 * The samples that take part in a fit. Systematic columns give the change of ln(signal) that one
 * standard uncertainty of their cause makes, the same cause at every sample.
 */
export interface FitPoints {
  readonly nm: Float64Array
  readonly signal: Float64Array
  /** ln(response times window): what turns radiance into signal. */
  readonly logFactor: Float64Array
  /** Relative noise of the response, as independent between these samples. */
  readonly responseNoise: Float64Array
  readonly position: Float64Array
  readonly lamp: Float64Array
  readonly lampStray: Float64Array
  /** Bend of glow minus bend of lamp, at one standard uncertainty. */
  readonly bend: Float64Array
  readonly responseSlopePerNm: Float64Array
}

/** Samples inside the range that are neither excluded nor saturated and have a response. */
export function fitPoints(
  glow: NetSignal,
  response: InstrumentResponse,
  range: TrustedRange,
  window: SpectrumWindow | null,
): FitPoints {
  const grid = response.wavelengthNm
  // The usual case, one instrument with one grid, needs no search.
  const same = sameGrid(grid, glow.wavelengthNm)
  const onGlow = (values: ArrayLike<number>) =>
    same ? values : resample(grid, values, glow.wavelengthNm)
  const responses = onGlow(response.response)
  const fromNm = Math.max(range.fromNm, grid[0]!)
  const toNm = Math.min(range.toNm, grid[grid.length - 1]!)
  const chosen: number[] = []
  glow.wavelengthNm.forEach((nm, i) => {
    const out = range.excluded.some((stretch) => nm >= stretch.fromNm && nm <= stretch.toNm)
    if (nm < fromNm || nm > toNm || out) return
    if (glow.saturated[i] === 0 && responses[i]! > 0) chosen.push(i)
  })
  const chosenOf = (values: ArrayLike<number>) =>
    tabulate(chosen.length, (k) => values[chosen[k]!]!)

  const nm = chosenOf(glow.wavelengthNm)
  const signal = chosenOf(glow.net)
  const factor = chosenOf(responses)
  const transmittance = logTransmittance(window)
  const sensitivity = lampSensitivity(response.lamp)
  const peakOverSignal = chosenOf(onGlow(response.lampPeakOverSignal))
  const noise = chosenOf(onGlow(response.rawNoise))
  return {
    nm,
    signal,
    logFactor: tabulate(chosen.length, (k) => transmittance(nm[k]!) + Math.log(factor[k]!)),
    // Finer samples than the response has share its errors: noise per nanometre is what counts.
    responseNoise: tabulate(chosen.length, (k) => {
      if (same) return noise[k]!
      const ownStep = stepOf(glow.wavelengthNm, chosen[k]!)
      return noise[k]! * Math.sqrt(stepOf(grid, segmentOf(grid, nm[k]!)) / ownStep)
    }),
    position: tabulate(chosen.length, (k) => slopePosition(nm[k]!)),
    lamp: tabulate(chosen.length, (k) => sensitivity(nm[k]!)),
    lampStray: peakOverSignal.map((ratio) => response.pedestal.standardUncertainty * ratio),
    bend: tabulate(chosen.length, (k) => {
      const share = Math.max(0, signal[k]!) / glow.peak
      return response.instrument.nonlinearity * (share - 1 / peakOverSignal[k]!)
    }),
    responseSlopePerNm: chosenOf(onGlow(logSlopes(grid, response.response))),
  }
}

/** The same points without some. */
export function withoutPoints(points: FitPoints, drop: Uint8Array): FitPoints {
  const keep = (column: Float64Array) => column.filter((_, i) => drop[i] !== 1)
  return {
    nm: keep(points.nm),
    signal: keep(points.signal),
    logFactor: keep(points.logFactor),
    responseNoise: keep(points.responseNoise),
    position: keep(points.position),
    lamp: keep(points.lamp),
    lampStray: keep(points.lampStray),
    bend: keep(points.bend),
    responseSlopePerNm: keep(points.responseSlopePerNm),
  }
}

/** Distance of neighbours at a sample, nm. */
function stepOf(grid: ArrayLike<number>, i: number): number {
  const from = Math.max(0, i - 1)
  const to = Math.min(grid.length - 1, i + 1)
  return (grid[to]! - grid[from]!) / (to - from)
}
