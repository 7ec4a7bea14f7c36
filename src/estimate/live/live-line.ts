import { normalCdf } from '../../numerics/heavy-tails.ts'
import type { CameraLocus } from '../camera-locus/types.ts'
import { CAMERA_LOCUS, estimateGlow } from '../estimate-glow.ts'
import type { GlowEstimate, GlowInput } from '../types.ts'

/** A whole estimate with its slope: what frames near it can be read by. */
export interface LiveLine {
  readonly estimate: GlowEstimate
  readonly input: GlowInput
  /** ln(G/R) that the estimate stands at. */
  readonly lnRatio: number
  /** Change of temperature over that of ln(G/R), K; null without a temperature. */
  readonly slopeK: number | null
}

/** Frames further away than this in ln(G/R) wait for a new line: 17 K at 1173 K. */
export const REACH = 0.05
/** Step of the difference quotient, ln(G/R). */
const STEP = 0.02

/**
 * The estimate of a measured glow and its slope in ln(G/R), by a second estimate beside it: some
 * 0.1 s for an ordinary picture, so it is made a few times a second, not for every frame.
 */
export function liveLine(input: GlowInput, locus: CameraLocus = CAMERA_LOCUS): LiveLine {
  const estimate = estimateGlow(input, locus)
  const [r, g, b] = input.glow.mean
  const lnRatio = Math.log(g / r)
  if (estimate.kind !== 'temperature') return { estimate, input, lnRatio, slopeK: null }
  const beside = estimateGlow(
    { ...input, glow: { ...input.glow, mean: [r, g * Math.exp(STEP), b] } },
    locus,
  )
  const slopeK =
    beside.kind === 'temperature' ? (beside.temperatureK - estimate.temperatureK) / STEP : null
  return { estimate, input, lnRatio, slopeK }
}

/** A live figure with its two kinds of uncertainty apart. */
export interface LiveFigure {
  readonly temperatureK: number
  /** From the scatter of the frames: shrinks with time. */
  readonly statisticalK: number
  /** From camera, curve, grey card, surface: stays, however long one looks. */
  readonly systematicK: number
  /** Both together, coverage about 95 %. */
  readonly expandedUncertaintyK: number
}

/**
 * A frame's figure by the line; null without a temperature or out of {@link REACH}.
 *
 * @param lnRatio rolling ln(G/R), background taken off as in the line
 * @param lnUncertainty its standard uncertainty
 */
export function figureByLine(
  { estimate, lnRatio: at, slopeK }: LiveLine,
  lnRatio: number,
  lnUncertainty: number,
): LiveFigure | null {
  if (estimate.kind !== 'temperature' || slopeK === null) return null
  if (!(Math.abs(lnRatio - at) <= REACH)) return null
  const pixel = estimate.budget.find(({ term }) => term === 'pixel noise')?.standardUncertaintyK
  const systematicK = Math.sqrt(Math.max(estimate.standardUncertaintyK ** 2 - (pixel ?? 0) ** 2, 0))
  const statisticalK = Math.abs(slopeK) * lnUncertainty
  const widening = Math.hypot(systematicK, statisticalK) / estimate.standardUncertaintyK
  return {
    temperatureK: estimate.temperatureK + slopeK * (lnRatio - at),
    statisticalK,
    systematicK,
    expandedUncertaintyK: estimate.expandedUncertaintyK * widening,
  }
}

/** The input of the whole estimate at another ln(G/R): only green moves. */
export function inputAt({ input }: LiveLine, lnRatio: number): GlowInput {
  const [r, , b] = input.glow.mean
  return { ...input, glow: { ...input.glow, mean: [r, r * Math.exp(lnRatio), b] } }
}

/** Where a figure stands to a target band. */
export type BandPlace = 'below' | 'inside' | 'above'

export interface TargetBand {
  readonly fromK: number
  readonly toK: number
}

export function bandPlace(temperatureK: number, { fromK, toK }: TargetBand): BandPlace {
  return temperatureK < fromK ? 'below' : temperatureK > toK ? 'above' : 'inside'
}

/** Whether the whole 95 % interval lies at the same place as the figure. */
export function bandPlaceIsSure(
  { temperatureK, expandedUncertaintyK }: LiveFigure,
  band: TargetBand,
): boolean {
  const place = bandPlace(temperatureK, band)
  return [-1, 1].every(
    (side) => bandPlace(temperatureK + side * expandedUncertaintyK, band) === place,
  )
}

/**
 * Whether the true temperature is more likely at the figure's place than elsewhere: in a band much
 * narrower than the ±, a figure inside still leaves it more likely outside.
 */
export function bandPlaceIsLikely(
  { temperatureK, expandedUncertaintyK }: LiveFigure,
  band: TargetBand,
): boolean {
  const below = normalCdf((2 * (band.fromK - temperatureK)) / expandedUncertaintyK)
  const above = normalCdf((2 * (temperatureK - band.toK)) / expandedUncertaintyK)
  const chances: Record<BandPlace, number> = { below, inside: 1 - below - above, above }
  return chances[bandPlace(temperatureK, band)] > 0.5
}

/** A band narrower than the 95 % interval cannot be held to: an answer 'inside' is then chance. */
export function bandIsNarrow({ fromK, toK }: TargetBand, expandedUncertaintyK: number): boolean {
  return toK - fromK < 2 * expandedUncertaintyK
}
