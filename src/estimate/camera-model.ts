/**
 * One camera in one white-balance state as a linear model: G/R (or its logarithm) at a temperature
 * is a mean plus loadings times coefficients, a handful of numbers that stand for this camera.
 */

import type { Channels } from '../light/image.ts'
import type { Triple } from '../numerics/matrix3.ts'
import { onceForNumber } from '../numerics/once-for.ts'
import { lightInP3 } from './balanced-colour.ts'
import { type CameraCurves, withLeak, withRendering } from './camera-curves.ts'
import { curveAt, locusPlace } from './camera-locus/locus-curve.ts'
import type {
  CameraLocus,
  LeakLocus,
  LocusState,
  RatioLocus,
  StateLocus,
} from './camera-locus/types.ts'
import type { LeakRange } from './infrared-leak.ts'
import type { BalanceState, BudgetTerm } from './types.ts'

/** Which of the heavy-tailed scales a coefficient's variance follows; null for a plain normal. */
export type Tail = 0 | 1 | null

export interface RatioPoint {
  readonly mean: number
  /** d mean / dT, 1/K. */
  readonly slope: number
  readonly loadings: readonly number[]
  readonly loadingSlopes: readonly number[]
}

/** A number common to several photos: part of the camera, or an error that they share. */
export interface Coefficient {
  readonly term: BudgetTerm
  readonly tail: Tail
}

export interface CameraModel {
  readonly scale: StateLocus['scale']
  readonly coldestK: number
  readonly hottestK: number
  /** What the loadings of both ratios belong to, in order. */
  readonly coefficients: readonly Coefficient[]
  green(temperatureK: number): RatioPoint
  blue(temperatureK: number): RatioPoint
  /** d G/R / dT (or of its logarithm) of the visible light alone, 1/K. */
  visibleSlope(temperatureK: number): number
}

/** What is taken of a camera beside its visible sensitivity. */
export interface CameraKind {
  /** Infrared that its filter lets through; null for none. */
  readonly leak: LeakRange | null
  /** Whether it may have made colours more vivid. */
  readonly rendered: boolean
}

/** A filter and colours without fault: the curves as they were measured. */
export const FAULTLESS: CameraKind = { leak: null, rendered: false }

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
  kind: CameraKind = FAULTLESS,
): CameraModel {
  const known = KEPT.get(locus) ?? new Map<string, CameraModel>()
  KEPT.set(locus, known)
  const key = [
    channels,
    state.kind,
    state.colourTemperatureK,
    kind.leak?.mean,
    kind.rendered,
  ].join()
  const kept = known.get(key)
  if (kept) return kept
  if (known.size > MOST_KEPT) known.clear()
  const model = derived(locus, channels, state, kind)
  known.set(key, model)
  return model
}

/** Models that were derived before; a reading asks for the same few again and again. */
const KEPT = new WeakMap<CameraLocus, Map<string, CameraModel>>()
const MOST_KEPT = 200

function derived(
  locus: CameraLocus,
  channels: Channels,
  state: BalanceState,
  kind: CameraKind,
): CameraModel {
  const mix = mixOf(state)
  const parts: Part[] =
    channels === 'camera'
      ? [{ id: 'raw', mean: 1, loading: 1 }]
      : [
          { id: 'daylight' as const, mean: 1 - mix.share, loading: Math.sqrt(1 - mix.share) },
          { id: 'lamp' as const, mean: mix.share, loading: Math.sqrt(mix.share) },
        ].filter((part) => part.mean > 0)
  const visible = visibleCurves(locus, parts, channels === 'camera' ? 0 : mix.sd)
  const coefficients: Coefficient[] = visible.tails.map((tail) => ({ term: 'camera', tail }))
  let curves: CameraCurves = visible
  if (kind.leak) {
    const leak = mixedLeak(locus, parts)
    curves = withLeak(curves, leak, kind.leak)
    const added = 1 + leak.red.loadings.length
    for (let k = 0; k < added; k++) coefficients.push({ term: 'infrared leak', tail: null })
  }
  if (kind.rendered && curves.scale === 'linear') {
    curves = withRendering(curves, mixedWhite(mix.share))
    for (let k = 0; k < 2; k++) coefficients.push({ term: 'colour rendering', tail: null })
  }
  const point = (temperatureK: number, { mean, loadings }: RatioLocus): RatioPoint => {
    const place = locusPlace(locus, mean.length, temperatureK)
    const centre = curveAt(mean, place)
    const each = loadings.map((loading) => curveAt(loading, place))
    return {
      mean: centre.value,
      slope: centre.slope,
      loadings: each.map(({ value }) => value),
      loadingSlopes: each.map(({ slope }) => slope),
    }
  }
  return {
    scale: curves.scale,
    coldestK: locus.coldestK,
    hottestK: locus.hottestK,
    coefficients,
    green: onceForNumber((temperatureK) => point(temperatureK, curves.green)),
    blue: onceForNumber((temperatureK) => point(temperatureK, curves.blue)),
    visibleSlope: (temperatureK) => {
      const { mean } = visible.green
      return curveAt(mean, locusPlace(locus, mean.length, temperatureK)).slope
    },
  }
}

interface Part {
  readonly id: LocusState
  /** Its share in means, and the factor on its loadings. */
  readonly mean: number
  readonly loading: number
}

/** The measured curves of the parts; coefficients: green's of each part, the mixing, blue's own. */
function visibleCurves(
  locus: CameraLocus,
  parts: readonly Part[],
  mixingSd: number,
): CameraCurves & { readonly tails: readonly Tail[] } {
  const greens = locus.states.daylight.green.loadings.length
  const tails: Tail[] = []
  const green: number[][] = []
  const blue: number[][] = []
  for (const { id, loading } of parts) {
    const state = locus.states[id]
    for (const [k, curve] of state.green.loadings.entries()) {
      green.push(scaled(curve, loading))
      blue.push(scaled(state.blue.loadings[k]!, loading))
      tails.push(k === 0 ? 0 : k === 1 ? 1 : null)
    }
  }
  if (mixingSd > 0) {
    const { daylight, lamp } = locus.states
    const difference = (ratio: 'green' | 'blue') =>
      lamp[ratio].mean.map((value, i) => mixingSd * (value - daylight[ratio].mean[i]!))
    green.push(difference('green'))
    blue.push(difference('blue'))
    tails.push(null)
  }
  for (const { id, loading } of parts)
    for (const curve of locus.states[id].blue.loadings.slice(greens)) {
      green.push(curve.map(() => 0))
      blue.push(scaled(curve, loading))
      tails.push(null)
    }
  const mean = (ratio: 'green' | 'blue') => sumOf(parts, ({ id }) => locus.states[id][ratio].mean)
  return {
    scale: locus.states[parts[0]!.id].scale,
    green: { mean: mean('green'), loadings: green },
    blue: { mean: mean('blue'), loadings: blue },
    tails,
  }
}

function mixedLeak(locus: CameraLocus, parts: readonly Part[]): LeakLocus {
  const channel = (c: keyof LeakLocus): RatioLocus => ({
    mean: sumOf(parts, ({ id }) => locus.states[id].leak[c].mean),
    loadings: locus.states.daylight.leak[c].loadings.map((_, k) =>
      sumOf(parts, ({ id }) => locus.states[id].leak[c].loadings[k]!),
    ),
  })
  return { red: channel('red'), green: channel('green'), blue: channel('blue') }
}

const mixedWhite = (share: number): Triple => {
  const lamp = lightInP3({ kind: 'filament', colourTemperatureK: 1 / LAMP })
  const at = (c: 0 | 1 | 2) => 1 + share * (lamp[c] - 1)
  return [at(0), at(1), at(2)]
}

const scaled = (curve: readonly number[], factor: number) => curve.map((value) => factor * value)

function sumOf(parts: readonly Part[], of: (part: Part) => readonly number[]): number[] {
  return of(parts[0]!).map((_, i) => parts.reduce((sum, part) => sum + part.mean * of(part)[i]!, 0))
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
