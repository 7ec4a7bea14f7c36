import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import type { ChromaticityCheck } from './chromaticity-check.ts'
import type { FitSetting, FittedSpectrum, LinesOut } from './fit-spectrum.ts'
import type { Halves } from './halves.ts'
import type { NoGlowCode, NoGlowEvidence, SpectrumPeak, SpectrumRefusal } from './types.ts'

/**
 * Is this light thermal at all, and do surface and model belong to it? Each limit lies where no glow,
 * instrument and surface that are what they are said to be will be found; METHODS.md has what lamps
 * of every kind reach.
 */

/** Share of the light in lines: a sodium flame before a forge stays below it. */
export const MOST_LINE_LIGHT = 0.1
/** Share of the samples in lines, where these carry any light to speak of. */
export const MOST_LINE_SAMPLES = 0.15
const LEAST_LINE_LIGHT = 0.01
/**
 * Size of the smooth departure with one instrument, and where a maker's calibration or another
 * instrument stands between: eight times what is usual, and four times. Daylight departs by 17 % at
 * least, LEDs and fluorescent lamps by more.
 */
export const MOST_SHAPE = 0.07
export const MOST_SHAPE_CALIBRATED = 0.1
export const MOST_SHAPE_OTHER = 0.35
/**
 * A peak before the one that Planck's law has at 4000 K (Wien's displacement law: 724 nm), this much of
 * the largest radiance above the valleys beside it, is no glow's whatever the fit says.
 */
export const MOST_PEAK = 0.2
const COLDEST_PEAK_NM = 700
/** Size of what is left within bins: bands, steps, lines too crowded to be told apart. */
export const MOST_FINE = 0.03
/** Standard uncertainties of the slope from its prior. */
export const MOST_SLOPE = 5
/** Standard uncertainties between halves, and between colours: 1 in 400 by chance. */
export const MOST_APART = 3
/**
 * Distance from the Planckian locus: the breadth of what is sold as white (ANSI C78.377, from memory).
 * Glows of grey or metallic surfaces stay within a tenth of it.
 */
export const MOST_DUV = 0.006
/** Tungsten melts at 3695 K, carbon sublimes near 3900 K (CRC Handbook). */
export const HOTTEST_SOLID_K = 4000
/**
 * Most c2 / (wavelength T) at the long end. Draper's first visible glow, 798 K seen at 700 nm or so,
 * has 26; a detector of small instruments needs more light than the eye.
 */
export const MOST_EXPONENT = 28

/**
 * A lamp made for the eye can follow Planck's law to 1 % as far as the eye sees, and ends by 700 nm; a
 * glow goes on. A range must reach beyond to tell them apart, except for a glow too red to be a lamp.
 */
export const EYE_ENDS_NM = 690
/** The reddest white lamps have 2000 K. */
export const WHITE_FROM_K = 1900

interface Evidence {
  readonly lines: LinesOut
  readonly setting: FitSetting
  readonly chromaticity: ChromaticityCheck
  readonly halves: Halves | null
  /** A person says that it is a glow, where the range is too short to tell. */
  readonly statedGlow: boolean
  readonly peaks: readonly SpectrumPeak[]
}

/** @returns null for a light that may be a glow */
export function whyNoGlow(evidence: Evidence): SpectrumRefusal | null {
  const { lines, setting, chromaticity, halves, peaks } = evidence
  const { fitted } = lines
  const { fit, points, sizes } = fitted
  const kelvin = 1e6 / fit.mired
  const seen = (code: NoGlowCode, found: Partial<NoGlowEvidence> & { amount: number }) =>
    ({ ok: false, code, evidence: { atNm: [], peaks, temperaturesK: [], ...found } }) as const

  const crowded = lines.sampleShare > MOST_LINE_SAMPLES && lines.lightShare > LEAST_LINE_LIGHT
  if (lines.lightShare > MOST_LINE_LIGHT || crowded) {
    const atNm = lines.lines.map(({ fromNm, toNm }) => (fromNm + toNm) / 2)
    return seen('lines', { atNm, amount: lines.lightShare })
  }
  const { otherInstrument } = setting
  const mostShape = otherInstrument
    ? MOST_SHAPE_OTHER
    : setting.response.lamp.emitter === 'calibration'
      ? MOST_SHAPE_CALIBRATED
      : MOST_SHAPE
  const peak = peaks.find(({ atNm, height }) => height > MOST_PEAK && atNm < COLDEST_PEAK_NM)
  if (peak && !otherInstrument)
    return seen('shape', { atNm: [peak.atNm], amount: peak.height, sign: 1 })
  if (sizes.smooth > mostShape) {
    const { atNm, sign } = largestDeparture(fitted)
    return seen('shape', { atNm: [atNm], amount: sizes.smooth, sign })
  }
  if (sizes.fine > MOST_FINE) {
    const { atNm, sign } = largestDeparture(fitted)
    return seen('bands', { atNm: [atNm], amount: sizes.fine, sign })
  }
  const { lnGreenOverRed, standardUncertainty } = setting.surface
  if (standardUncertainty > 0) {
    const apart = (fit.slope - lnGreenOverRed) / standardUncertainty
    if (Math.abs(apart) > MOST_SLOPE) return seen('slope', { amount: apart })
  }
  if (kelvin > HOTTEST_SOLID_K) {
    return seen('hotter than any solid', { amount: kelvin, temperaturesK: [kelvin] })
  }
  const longest = points.nm[points.nm.length - 1]!
  const exponent = (SECOND_RADIATION_CONSTANT * 1e9) / (longest * kelvin)
  if (exponent > MOST_EXPONENT) {
    return seen('too cold to see', { amount: exponent, temperaturesK: [kelvin] })
  }
  if (!evidence.statedGlow && longest < EYE_ENDS_NM && kelvin > WHITE_FROM_K) {
    return seen('cannot tell from a lamp', { amount: longest, temperaturesK: [kelvin] })
  }
  if (chromaticity.kind === 'chromaticity' && !otherInstrument) {
    const { cctK, fittedCctK, duv, standardUncertaintyK, apart } = chromaticity
    const isOff = cctK === null || fittedCctK === null || duv === null || Math.abs(duv) > MOST_DUV
    // Of a weak light the colour is noise and zero.
    if (isOff && apart > MOST_APART) {
      return seen('off the locus', { amount: duv ?? 1, temperaturesK: [] })
    }
    if (
      !isOff &&
      standardUncertaintyK &&
      Math.abs(cctK - fittedCctK) > MOST_APART * standardUncertaintyK
    ) {
      return seen('off the locus', { amount: duv, temperaturesK: [cctK, fittedCctK] })
    }
  }
  if (halves !== null && halves.apart > MOST_APART) {
    const temperaturesK = [halves.short.temperatureK, halves.long.temperatureK]
    return seen('halves disagree', { amount: halves.apart, temperaturesK })
  }
  return null
}

/** Where the light departs most from the model without causes and shape, noise allowed for. */
function largestDeparture({ fit, bins }: FittedSpectrum) {
  let atNm = bins.nm[0]!
  let amount = 0
  let sign: 1 | -1 = 1
  bins.nm.forEach((nm, b) => {
    const departure = fit.departure[bins.start[b]!]! + fit.residual[b]!
    // Where noise is larger than the departure there is nothing to see.
    const size = Math.abs(departure) / Math.sqrt(1 + fit.residualNoise[b]! / 0.01)
    if (size <= amount) return
    amount = size
    atNm = nm
    sign = departure > 0 ? 1 : -1
  })
  return { atNm, amount, sign }
}
