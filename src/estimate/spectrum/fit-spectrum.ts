import { type Bins, binsOf } from './bins.ts'
import { causesOf, type FitCause } from './causes.ts'
import { type FitPoints, withoutPoints } from './fit-points.ts'
import type { NetSignal } from './net-signal.ts'
import { fitPlanck, type PlanckFit } from './planck-fit.ts'
import { findLines, markedStretches, spectralResiduals } from './residuals.ts'
import {
  hiddenSlope,
  type ShapeBasis,
  type ShapePrior,
  type ShapeSizes,
  shapeBasis,
} from './shape-error.ts'
import { shapeSizes } from './shape-sizes.ts'
import type {
  InstrumentResponse,
  PedestalPrior,
  SpectrumSurface,
  SpectrumWindow,
  WavelengthRange,
} from './types.ts'

/** What a fit starts from besides its points. */
export interface FitSetting {
  readonly glow: NetSignal
  readonly response: InstrumentResponse
  readonly surface: SpectrumSurface
  readonly window: SpectrumWindow | null
  readonly otherInstrument: boolean
  readonly shape: ShapePrior
}

/** A fit with all that it was made from. */
export interface FittedSpectrum {
  readonly points: FitPoints
  readonly bins: Bins
  readonly basis: ShapeBasis
  readonly causes: readonly FitCause[]
  readonly sizes: ShapeSizes
  readonly fit: PlanckFit
}

/** A first fit trusts the shape to this; the sizes are sought from there. */
const FIRST_SIZES: ShapeSizes = { smooth: 0.02, fine: 0.005 }
/** Relative steps of the mired at which fits stand still: one to go on from, and one to tell. */
const ROUGHLY = 1e-5
const STILL = 1e-10

/**
 * Fits points with sizes of the shape error as the points themselves show them.
 *
 * @param startMired where the first fit begins
 * @returns null where no temperature stands still
 */
export function fitSpectrum(
  points: FitPoints,
  setting: FitSetting,
  startMired?: number,
): FittedSpectrum | null {
  if (points.nm.length === 0) return null
  const { glow, surface, response, window, otherInstrument } = setting
  const bins = binsOf(points.nm)
  const basis = shapeBasis(bins.nm)
  const causesAt = (mired: number, hidden: number) =>
    causesOf(points, bins, response, surface, window, 1e6 / mired, otherInstrument, hidden)
  const options = { surface, pedestal: pedestalOf(glow), noise: glow.noise, basis }
  // The scale's column depends a little on the temperature: 1500 K will do for a start.
  const first = fitPlanck(
    points,
    bins,
    {
      ...options,
      causes: causesAt(startMired ?? 1e6 / 1500, 0),
      sizes: FIRST_SIZES,
      still: ROUGHLY,
    },
    startMired,
  )
  if (first === null) return null
  const sizes = shapeSizes(first, basis, setting.shape)
  const causes = causesAt(first.mired, hiddenSlope(sizes, setting.shape))
  const fit = fitPlanck(points, bins, { ...options, causes, sizes, still: STILL }, first.mired)
  return fit && { points, bins, basis, causes, sizes, fit }
}

/** In signal units. */
function pedestalOf({ pedestal, peak }: NetSignal): PedestalPrior {
  return {
    mean: pedestal.mean * peak,
    standardUncertainty: pedestal.standardUncertainty * peak,
  }
}

/** Rounds in which lines are looked for. */
const LINE_ROUNDS = 3

export interface LinesOut {
  readonly fitted: FittedSpectrum
  readonly lines: readonly WavelengthRange[]
  /** Of the samples, and of the light above the fit in all of the signal. */
  readonly sampleShare: number
  readonly lightShare: number
}

/** Fits, takes narrow features out and fits again. */
export function fitWithoutLines(all: FitPoints, setting: FitSetting): LinesOut | null {
  let fitted = fitSpectrum(all, setting)
  if (fitted === null) return null
  const lines: WavelengthRange[] = []
  let lightInLines = 0
  for (let round = 0; round < LINE_ROUNDS; round++) {
    const { points, fit } = fitted
    const marks = findLines(points.nm, spectralResiduals(points, fit, setting.shape.fine))
    if (!marks.includes(1)) break
    lines.push(...markedStretches(points.nm, marks))
    marks.forEach((mark, i) => {
      if (mark === 1) lightInLines += Math.abs(points.signal[i]! - fit.glow[i]! - fit.zero[i]!)
    })
    const again = fitSpectrum(withoutPoints(points, marks), setting, fit.mired)
    if (again === null) return null
    fitted = again
  }
  const light = all.signal.reduce((sum, value) => sum + Math.abs(value), 0)
  return {
    fitted,
    lines: lines.sort((a, b) => a.fromNm - b.fromNm),
    sampleShare: 1 - fitted.points.nm.length / all.nm.length,
    lightShare: light > 0 ? lightInLines / light : 0,
  }
}
