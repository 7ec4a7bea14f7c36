import { type ApparentPeak, apparentPeak } from './apparent-peak.ts'
import { plain, tabulate } from './arrays.ts'
import { type SpectrumBudget, spectrumBudget } from './budget.ts'
import { type ChromaticityCheck, chromaticityCheck } from './chromaticity-check.ts'
import type { CorrectedSpectrum, FittedRadiance } from './corrected.ts'
import { type FitPoints, fitPoints, withoutPoints } from './fit-points.ts'
import { logPlanck } from './lamp.ts'
import { type NetSignal, netSignal } from './net-signal.ts'
import { fitPlanck, type PlanckFit } from './planck-fit.ts'
import { type RatioReading, ratioReading } from './ratio.ts'
import { findLines, markedStretches, misfitFactor, spectralResiduals } from './residuals.ts'
import { logSurfaceShape, slopePosition } from './surface.ts'
import { rangeByHand } from './trusted-range.ts'
import type {
  InstrumentResponse,
  PedestalPrior,
  Recording,
  SpectrumContribution,
  SpectrumFinding,
  SpectrumRefusal,
  SpectrumSurface,
  SpectrumWindow,
  TrustedRange,
  WavelengthRange,
} from './types.ts'
import { type WienLine, wienLine } from './wien-line.ts'
import { isUsableWindow } from './windows.ts'

/** Everything that a temperature from a spectrum rests on. */
export interface SpectrumInput {
  readonly recording: Recording
  readonly response: InstrumentResponse
  readonly surface: SpectrumSurface
  readonly window: SpectrumWindow | null
  /** Set by a person instead of the response's own range; null to take that. */
  readonly range: WavelengthRange | null
  /** Two wavelengths for a ratio temperature, or null. */
  readonly ratioNm: readonly [number, number] | null
}

/** One model fitted to one spectrum. */
export interface ModelFit {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  /** k = 2, even in 1/T. */
  readonly interval95K: readonly [number, number]
  /** Largest first; squares add up to the squared standard uncertainty. */
  readonly budget: readonly SpectrumContribution[]
  /** ln(emissivity at 550 nm / at 650 nm), as fitted or as given. */
  readonly lnGreenOverRed: number
}

export interface SpectrumTemperature extends ModelFit {
  readonly ok: true
  /**
   * Planck times a scale, with the slope of emissivity as given and taken for certain. With a slope
   * prior the temperature itself is of Planck times scale times slope.
   */
  readonly withKnownSlope: ModelFit
  readonly range: TrustedRange
  readonly samples: number
  /** Even pedestal found, over the largest signal. */
  readonly pedestalShare: number
  /** Standardised by noise; for the picture, with the corrected spectrum's wavelengths. */
  readonly residuals: readonly number[]
  readonly corrected: CorrectedSpectrum
  readonly wien: WienLine | null
  readonly ratio: RatioReading | null
  readonly chromaticity: ChromaticityCheck
  /** Of the raw spectrum: shown struck through. */
  readonly apparentPeak: ApparentPeak | null
  readonly findings: readonly SpectrumFinding[]
}

const COVERAGE_FACTOR = 2
/** Rounds in which lines are looked for. */
const LINE_ROUNDS = 3
/** More than this share of the samples in lines is a matter of shape, not of lines. */
const MAX_LINE_SHARE = 0.15
/** A slope further from its prior than this many standard uncertainties is named. */
const FAR_SLOPE = 2.5
const MIN_POINTS = 8

/**
 * Temperature of a glow from its spectrum and the instrument's response: a weighted fit of Planck's
 * law in the trusted range, with everything that lets a person check it.
 *
 * @returns temperatures from 400 to 50000 K, or why there is none
 */
export function temperatureFromSpectrum(
  input: SpectrumInput,
): SpectrumTemperature | SpectrumRefusal {
  const { response, surface } = input
  const window = input.window !== null && isUsableWindow(input.window) ? input.window : null
  if (window !== input.window) return { ok: false, code: 'unusable window' }
  const glow = netSignal(input.recording, response.instrument, 'glow')
  if (!(glow.peak > 0)) return { ok: false, code: 'no signal' }
  const range = input.range === null ? response.range : rangeByHand(response.range, input.range)
  const all = fitPoints(glow, response, range, window)
  if (all.nm.length < MIN_POINTS) return { ok: false, code: 'no common wavelengths' }

  const known: SpectrumSurface = { ...surface, standardUncertainty: 0 }
  const { points, lines, fit } = leaveLinesOut(all, glow, surface)
  const certain =
    surface.standardUncertainty > 0 && fit !== null ? fitted(points, glow, known, fit.mired) : fit
  if (fit === null || certain === null) return { ok: false, code: 'no fit' }
  const misfit = misfitFactor(points, fit)

  const budgetOf = (model: PlanckFit, of: SpectrumSurface, factor: number): SpectrumBudget =>
    spectrumBudget({
      fit: model,
      points,
      response,
      surface: of,
      window,
      pedestalSigma: pedestalOf(glow).standardUncertainty,
      misfit: factor,
    })
  const { corrected, fittedRadiance } = correct(points, fit, surface)
  const main = modelFit(fit, budgetOf(fit, surface, misfit))
  return {
    ok: true,
    ...main,
    withKnownSlope: certain === fit ? main : modelFit(certain, budgetOf(certain, known, misfit)),
    range,
    samples: points.nm.length,
    pedestalShare: fit.pedestal / glow.peak,
    residuals: plain(spectralResiduals(points, fit)),
    corrected,
    wien: wienLine(corrected.wavelengthNm, corrected.radiance, corrected.sigma, corrected.fit),
    ratio:
      input.ratioNm &&
      ratioReading(corrected, fittedRadiance, input.ratioNm, response.lamp, surface),
    chromaticity: chromaticityCheck(corrected, fittedRadiance),
    apparentPeak: apparentPeak(glow.wavelengthNm, glow.net),
    findings: [
      ...glow.findings,
      ...rangeFindings(response.range, range),
      ...(lines.length > 0 ? [{ code: 'lines left out', stretches: lines } as const] : []),
      ...(misfit > 1 ? [{ code: 'shape misfit', factor: misfit } as const] : []),
      ...slopeFindings(fit, surface),
    ],
  }
}

/** In signal units. */
function pedestalOf({ pedestal, peak }: NetSignal): PedestalPrior {
  return {
    mean: pedestal.mean * peak,
    standardUncertainty: pedestal.standardUncertainty * peak,
  }
}

function fitted(
  points: FitPoints,
  glow: NetSignal,
  surface: SpectrumSurface,
  startMired?: number,
): PlanckFit | null {
  return fitPlanck(points, { surface, pedestal: pedestalOf(glow), noise: glow.noise }, startMired)
}

interface LinesOut {
  readonly points: FitPoints
  readonly lines: readonly WavelengthRange[]
  /** Of the points that are left. */
  readonly fit: PlanckFit | null
}

/** Fits, takes narrow features out and fits again, as long as there are few. */
function leaveLinesOut(all: FitPoints, glow: NetSignal, surface: SpectrumSurface): LinesOut {
  const whole = fitted(all, glow, surface)
  const lines: WavelengthRange[] = []
  let points = all
  let fit = whole
  for (let round = 0; round < LINE_ROUNDS && fit !== null; round++) {
    const marks = findLines(points.nm, spectralResiduals(points, fit))
    if (!marks.includes(1)) break
    lines.push(...markedStretches(points.nm, marks))
    points = withoutPoints(points, marks)
    if (points.nm.length < (1 - MAX_LINE_SHARE) * all.nm.length) {
      return { points: all, lines: [], fit: whole }
    }
    fit = fitted(points, glow, surface, fit.mired)
  }
  return { points, lines: lines.sort((a, b) => a.fromNm - b.fromNm), fit }
}

function modelFit(fit: PlanckFit, budget: SpectrumBudget): ModelFit {
  const half = COVERAGE_FACTOR * budget.mired
  // With an uncertainty as large as the value itself there is no upper bound; JSON needs a number.
  const shortest = Math.max(fit.mired - half, fit.mired * 1e-3)
  return {
    temperatureK: 1e6 / fit.mired,
    standardUncertaintyK: budget.standardUncertaintyK,
    interval95K: [1e6 / (fit.mired + half), 1e6 / shortest],
    budget: budget.contributions,
    lnGreenOverRed: fit.slope,
  }
}

function correct(
  points: FitPoints,
  fit: PlanckFit,
  surface: SpectrumSurface,
): { corrected: CorrectedSpectrum; fittedRadiance: FittedRadiance } {
  const kelvin = 1e6 / fit.mired
  const shape = logSurfaceShape(surface)
  const logRadiance = (nm: number) =>
    logPlanck(nm, kelvin) + shape(nm, kelvin) + fit.slope * slopePosition(nm)
  const count = points.nm.length
  const logs = tabulate(count, (i) => logRadiance(points.nm[i]!))
  const top = logs.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY)
  const model = tabulate(count, (i) => Math.exp(logs[i]! - top))
  const perSignal = tabulate(count, (i) => model[i]! / fit.glow[i]!)
  const column = (value: (i: number) => number) => plain(tabulate(count, value))
  return {
    corrected: {
      wavelengthNm: plain(points.nm),
      radiance: column((i) => (points.signal[i]! - fit.pedestal) * perSignal[i]!),
      sigma: column((i) => Math.sqrt(fit.noise[i]!) * perSignal[i]!),
      fit: plain(model),
    },
    fittedRadiance: (nm) => Math.exp(logRadiance(nm) - top),
  }
}

function rangeFindings(found: TrustedRange, used: TrustedRange): SpectrumFinding[] {
  const wider = used.fromNm < found.fromNm || used.toNm > found.toNm
  return wider ? [{ code: 'range wider than found' }] : []
}

function slopeFindings(fit: PlanckFit, surface: SpectrumSurface): SpectrumFinding[] {
  if (!(surface.standardUncertainty > 0)) return []
  const standardised = (fit.slope - surface.lnGreenOverRed) / surface.standardUncertainty
  return Math.abs(standardised) > FAR_SLOPE ? [{ code: 'slope far from prior', standardised }] : []
}
