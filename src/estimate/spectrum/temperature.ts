import { type ApparentPeak, apparentPeak } from './apparent-peak.ts'
import { plain } from './arrays.ts'
import { spectrumBudget } from './budget.ts'
import { type ChromaticityCheck, chromaticityCheck } from './chromaticity-check.ts'
import type { CorrectedSpectrum } from './corrected.ts'
import { fitPoints } from './fit-points.ts'
import { type FitSetting, type FittedSpectrum, fitWithoutLines } from './fit-spectrum.ts'
import { type Halves, halvesOf } from './halves.ts'
import { withKnownSlope } from './known-slope.ts'
import { netSignal } from './net-signal.ts'
import { whyNoGlow } from './no-glow.ts'
import { spectrumPeaks } from './peaks.ts'
import type { PlanckFit } from './planck-fit.ts'
import { type RatioReading, ratioReading } from './ratio.ts'
import { spectralResiduals } from './residuals.ts'
import { instrumentSigns } from './same-instrument.ts'
import { combineReferences, commonRefusal, isLeftOut } from './several-references.ts'
import {
  MAKERS_CALIBRATION,
  OTHER_INSTRUMENT,
  SAME_INSTRUMENT,
  type ShapePrior,
  type ShapeSizes,
} from './shape-error.ts'
import { takeInstrumentOut } from './take-instrument-out.ts'
import { rangeByHand } from './trusted-range.ts'
import type {
  InstrumentResponse,
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
  /** Further responses of the same instrument, each from a reference of its own. */
  readonly others?: readonly InstrumentResponse[] | undefined
  readonly surface: SpectrumSurface
  readonly window: SpectrumWindow | null
  /** Set by a person instead of the response's own range; null to take that. */
  readonly range: WavelengthRange | null
  /** Two wavelengths for a ratio temperature, or null. */
  readonly ratioNm: readonly [number, number] | null
  /** A person says that it glows; asked only where the range is too short to tell. */
  readonly statedGlow?: boolean | undefined
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

export interface ReferenceFigure extends Pick<ModelFit, 'temperatureK' | 'standardUncertaintyK'> {
  readonly reference: number
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
  /** Departures of response and surface from the model, as the glow shows them. */
  readonly shapeSizes: ShapeSizes
  /** The short and the long half of the spectrum, each by itself; null where one is too weak. */
  readonly halves: Halves | null
  /** What each reference says by itself, with its place among those given. */
  readonly byReference: readonly ReferenceFigure[]
  /** What they differ by beyond their own uncertainties, estimated, K; null for a single one. */
  readonly betweenReferencesK: number | null
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
/** A size of the shape error over this is named. */
const LARGE_SHAPE = 0.03
/** A slope further from its prior than this many standard uncertainties is named. */
const FAR_SLOPE = 2.5
const MIN_POINTS = 8

/**
 * Temperature of a glow from its spectrum and the responses of one instrument, each from a reference
 * of its own: one by each, and the mean of them all.
 *
 * @returns temperatures from 400 to 4000 K, or why there is none: first of all, whether it is a glow
 */
export function temperatureFromSpectrum(
  input: SpectrumInput,
): SpectrumTemperature | SpectrumRefusal {
  const responses = [input.response, ...(input.others ?? [])]
  const results = responses.map((response) => byOneReference({ ...input, response }))
  const refusal = commonRefusal(results)
  if (refusal !== null) return refusal
  const combined = combineReferences(results.filter((one) => one.ok))
  const left = results.filter(isLeftOut).length
  return {
    ...combined,
    findings: [
      ...combined.findings,
      ...(left > 0 ? [{ code: 'references left out', count: left } as const] : []),
    ],
    byReference: results.flatMap((one, reference) => {
      if (!one.ok) return []
      const { temperatureK, standardUncertaintyK } = one
      return { reference, temperatureK, standardUncertaintyK }
    }),
  }
}

/**
 * Temperature of a glow from its spectrum and the instrument's response: generalised least squares of
 * Planck's law in the trusted range, with everything that lets a person check it.
 */
function byOneReference(input: SpectrumInput): SpectrumTemperature | SpectrumRefusal {
  const { response, surface } = input
  const window = input.window !== null && isUsableWindow(input.window) ? input.window : null
  if (window !== input.window) return { ok: false, code: 'unusable window' }
  const glow = netSignal(
    input.recording,
    response.instrument,
    'glow',
    response.lamp.emitter === 'calibration',
  )
  if (!(glow.peak > 0)) return { ok: false, code: 'no signal' }
  const range = input.range === null ? response.range : rangeByHand(response.range, input.range)
  const all = fitPoints(glow, response, range, window)
  if (all.nm.length < MIN_POINTS) return { ok: false, code: 'no common wavelengths' }

  const signs = instrumentSigns(input.recording, response)
  const setting: FitSetting = {
    glow,
    response,
    surface,
    window,
    otherInstrument: signs.length > 0,
    shape: shapePriorOf(response, signs.length > 0),
  }
  const lines = fitWithoutLines(all, setting)
  const peaks = spectrumPeaks(all)
  if (lines === null) {
    const evidence = { atNm: [], peaks, amount: 0, temperaturesK: [] }
    return { ok: false, code: 'no fit', evidence, findings: glow.findings }
  }
  const { fitted } = lines
  const { fit, points, sizes } = fitted
  const { corrected, fittedRadiance, hotter, zeroErrors } = takeInstrumentOut(points, fit, surface)
  const smooth = Math.max(sizes.smooth, setting.shape.smooth)
  const chromaticity = chromaticityCheck(corrected, fittedRadiance, hotter, smooth, zeroErrors)
  const halves = halvesOf(fitted)
  const before: SpectrumFinding[] = [
    ...glow.findings,
    ...rangeFindings(response.range, range),
    ...(signs.length > 0 ? [{ code: 'another instrument', signs } as const] : []),
  ]
  const findings: SpectrumFinding[] = [
    ...before,
    ...(lines.lines.length > 0
      ? [{ code: 'lines left out', stretches: lines.lines } as const]
      : []),
    ...(sizes.smooth > LARGE_SHAPE ? [{ code: 'shape misfit', share: sizes.smooth } as const] : []),
    ...slopeFindings(fit, surface),
  ]
  const refusal = whyNoGlow({
    lines,
    setting,
    chromaticity,
    halves,
    statedGlow: input.statedGlow === true,
    peaks,
  })
  if (refusal !== null) return { ...refusal, findings: before }

  const main = modelFit(fitted)
  return {
    ok: true,
    ...main,
    withKnownSlope:
      surface.standardUncertainty > 0
        ? modelFit({ ...fitted, fit: withKnownSlope(fit, surface.lnGreenOverRed) })
        : main,
    range,
    samples: points.nm.length,
    shapeSizes: sizes,
    halves,
    byReference: [],
    betweenReferencesK: null,
    pedestalShare: fit.pedestal / glow.peak,
    residuals: plain(spectralResiduals(points, fit)),
    corrected,
    wien: wienLine(corrected.wavelengthNm, corrected.radiance, corrected.sigma, corrected.fit),
    ratio:
      input.ratioNm &&
      ratioReading(corrected, fittedRadiance, input.ratioNm, response.lamp, surface),
    chromaticity,
    apparentPeak: apparentPeak(glow.wavelengthNm, glow.net),
    findings,
  }
}

function shapePriorOf({ lamp }: InstrumentResponse, otherInstrument: boolean): ShapePrior {
  if (lamp.emitter === 'calibration') return MAKERS_CALIBRATION
  return otherInstrument ? OTHER_INSTRUMENT : SAME_INSTRUMENT
}

function modelFit({ fit, causes }: FittedSpectrum): ModelFit {
  const budget = spectrumBudget(fit, causes)
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

function rangeFindings(found: TrustedRange, used: TrustedRange): SpectrumFinding[] {
  const wider = used.fromNm < found.fromNm || used.toNm > found.toNm
  return wider ? [{ code: 'range wider than found' }] : []
}

function slopeFindings(fit: PlanckFit, surface: SpectrumSurface): SpectrumFinding[] {
  if (!(surface.standardUncertainty > 0)) return []
  const standardised = (fit.slope - surface.lnGreenOverRed) / surface.standardUncertainty
  return Math.abs(standardised) > FAR_SLOPE ? [{ code: 'slope far from prior', standardised }] : []
}
