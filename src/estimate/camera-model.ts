/**
 * One camera in one white-balance state as a linear model: G/R (or its logarithm) at a temperature
 * is a mean plus loadings times coefficients, a handful of numbers that stand for this camera.
 */

import type { Channels } from '../light/image.ts'
import { curveAt, locusPlace } from './camera-locus/locus-curve.ts'
import type { CameraLocus, LocusState, StateLocus } from './camera-locus/types.ts'
import type { BalanceState } from './types.ts'

/** Which of the heavy-tailed scales a coefficient's variance follows; null for a plain normal. */
export type Tail = 0 | 1 | null

export interface RatioPoint {
  readonly mean: number
  /** d mean / dT, 1/K. */
  readonly slope: number
  readonly loadings: readonly number[]
  readonly loadingSlopes: readonly number[]
}

export interface CameraModel {
  readonly scale: StateLocus['scale']
  readonly coldestK: number
  readonly hottestK: number
  /** Tails of the coefficients of green; those of blue's own coefficients come after them. */
  readonly tails: readonly Tail[]
  readonly blueOwn: number
  green(temperatureK: number): RatioPoint
  /** Loadings: green's coefficients, then blue's own. */
  blue(temperatureK: number): RatioPoint
}

/** Reciprocal colour temperatures of the two presets, 1/K. */
const DAYLIGHT = 1 / 6504
const LAMP = 1 / 2856
/** Automatic or unknown: anywhere between the presets; mean and standard deviation of the share. */
const UNKNOWN_SHARE = { mean: 0.4, sd: 0.35 }
/** A colour temperature between the presets: cameras mix their two matrices, each in its own way. */
const LARGEST_MIXING_SD = 0.1

interface Mix {
  /** Share of the lamp preset, 0..1. */
  readonly share: number
  readonly sd: number
}

function mixOf(state: BalanceState): Mix {
  switch (state.kind) {
    case 'daylight':
    case 'raw':
      return { share: 0, sd: 0 }
    case 'lamp':
      return { share: 1, sd: 0 }
    case 'automatic':
    case 'unknown':
      return { share: UNKNOWN_SHARE.mean, sd: UNKNOWN_SHARE.sd }
    case 'locked': {
      const kelvin = state.colourTemperatureK
      if (kelvin === null || !(kelvin > 0)) return { share: 0, sd: LARGEST_MIXING_SD }
      const share = Math.min(Math.max((1 / kelvin - DAYLIGHT) / (LAMP - DAYLIGHT), 0), 1)
      return { share, sd: LARGEST_MIXING_SD * 4 * share * (1 - share) }
    }
  }
}

/**
 * The model for a balance state.
 *
 * Between the presets means are mixed and variances too (loadings by the roots of the shares, with
 * coefficients of their own); an uncertain share adds one coefficient along the difference of the
 * means.
 *
 * @param channels `camera`: raw channels without a colour matrix
 */
export function cameraModel(
  locus: CameraLocus,
  channels: Channels,
  state: BalanceState,
): CameraModel {
  const mix = mixOf(state)
  const parts: { id: LocusState; mean: number; loading: number }[] =
    channels === 'camera'
      ? [{ id: 'raw', mean: 1, loading: 1 }]
      : [
          { id: 'daylight' as const, mean: 1 - mix.share, loading: Math.sqrt(1 - mix.share) },
          { id: 'lamp' as const, mean: mix.share, loading: Math.sqrt(mix.share) },
        ].filter((part) => part.mean > 0)
  const sd = channels === 'camera' ? 0 : mix.sd
  const greens = locus.states.daylight.green.loadings.length
  const tails: Tail[] = parts.flatMap(() =>
    Array.from({ length: greens }, (_, k): Tail => (k === 0 ? 0 : k === 1 ? 1 : null)),
  )
  if (sd > 0) tails.push(null)

  const point = (temperatureK: number, ratio: 'green' | 'blue'): RatioPoint => {
    const first = locus.states[parts[0]!.id]
    const place = locusPlace(locus, first.green.mean.length, temperatureK)
    let mean = 0
    let slope = 0
    const loadings: number[] = []
    const loadingSlopes: number[] = []
    const own: number[] = []
    const ownSlopes: number[] = []
    for (const part of parts) {
      const curves = locus.states[part.id][ratio]
      const centre = curveAt(curves.mean, place)
      mean += part.mean * centre.value
      slope += part.mean * centre.slope
      for (const [k, curve] of curves.loadings.entries()) {
        const at = curveAt(curve, place)
        const isOwn = k >= greens
        ;(isOwn ? own : loadings).push(part.loading * at.value)
        ;(isOwn ? ownSlopes : loadingSlopes).push(part.loading * at.slope)
      }
    }
    if (sd > 0) {
      const lamp = curveAt(locus.states.lamp[ratio].mean, place)
      const daylight = curveAt(locus.states.daylight[ratio].mean, place)
      loadings.push(sd * (lamp.value - daylight.value))
      loadingSlopes.push(sd * (lamp.slope - daylight.slope))
    }
    return {
      mean,
      slope,
      loadings: [...loadings, ...own],
      loadingSlopes: [...loadingSlopes, ...ownSlopes],
    }
  }
  const blueOwn = parts.length * (locus.states.daylight.blue.loadings.length - greens)
  return {
    scale: locus.states[parts[0]!.id].scale,
    coldestK: locus.coldestK,
    hottestK: locus.hottestK,
    tails,
    blueOwn,
    green: (temperatureK) => point(temperatureK, 'green'),
    blue: (temperatureK) => point(temperatureK, 'blue'),
  }
}

/** Whether references of one state count for readings of the other. */
export function sameBalance(a: BalanceState, b: BalanceState): boolean {
  if (a.kind !== b.kind) return false
  if (a.kind === 'automatic' || a.kind === 'unknown') return false
  const [p, q] = [a.colourTemperatureK, b.colourTemperatureK]
  if (p === null || q === null) return p === q || a.kind !== 'locked'
  // Ten mired are what a person can see, and less than cameras round to.
  return Math.abs(1e6 / p - 1e6 / q) <= 10
}
