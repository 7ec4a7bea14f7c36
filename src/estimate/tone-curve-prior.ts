/**
 * What is not known about the tone curve of an ordinary photo.
 *
 * A camera bends the tones before it stores them, and the nominal curve of the file's colour space
 * does not undo that. Two kinds exist: one scales the whole pixel and keeps its ratios; one acts on
 * each channel. Nobody can tell from one photo; the second has two thirds of the weight.
 * The second kind is a contrast (exponent about mid-grey, as film and video use it) with ln contrast
 * normal, standard deviation 0.15, and a soft shoulder. Chosen from what cameras offer: contrast
 * settings of stills cameras span about +-30 % in slope, which is two standard deviations; "standard"
 * renderings roll off their last one to two stops (common practice). At 900 °C such a curve alone
 * moves a reading by some 160 K, one standard deviation.
 */
import { decodeTransfer, P3_FROM_SRGB } from '../colour/rgb-spaces.ts'
import type { RgbSpace } from '../light/image.ts'
import { type Triple, transform } from '../numerics/matrix3.ts'
import type { Linearity } from './types.ts'

/** One possible curve, from light to what the nominal decoding makes of it, on each channel. */
export interface ToneHypothesis {
  readonly kind: 'ratio' | 'channel'
  /** Exponent about mid-grey; 1 for none. */
  readonly contrast: number
  /** Strength of the roll-off: near the top light is compressed by 1 + shoulder; 0 for none. */
  readonly shoulder: number
  readonly weight: number
}

const MID_GREY = 0.18
/** How much more often a curve acts on each channel: the tone-map curves of phones are defined so. */
const CHANNEL_SHARE = 2 / 3
const LN_CONTRAST_SD = 0.15

/** Gauss-Hermite nodes and weights for a standard normal, 5 points (Abramowitz & Stegun 25.10). */
const NORMAL_5: readonly (readonly [number, number])[] = [
  [-2.85697001387281, 0.0112574113277207],
  [-1.35562617997427, 0.222075922005613],
  [0, 0.533333333333333],
  [1.35562617997427, 0.222075922005613],
  [2.85697001387281, 0.0112574113277207],
]
const SHOULDERS: readonly (readonly [number, number])[] = [
  [0, 1 / 3],
  [0.25, 1 / 3],
  [0.5, 1 / 3],
]

export const TONE_CURVES: readonly ToneHypothesis[] = [
  { kind: 'ratio', contrast: 1, shoulder: 0, weight: 1 - CHANNEL_SHARE },
  ...NORMAL_5.flatMap(([z, p]) =>
    SHOULDERS.map(
      ([shoulder, q]): ToneHypothesis => ({
        kind: 'channel',
        contrast: Math.exp(LN_CONTRAST_SD * z),
        shoulder,
        weight: CHANNEL_SHARE * p * q,
      }),
    ),
  ),
]

/** The curve itself: linear light 0..1 to what is decoded, 0 to 0 and about 1 to 1. */
export function bent(curve: ToneHypothesis, light: number): number {
  const contrasted = MID_GREY * (Math.max(light, 0) / MID_GREY) ** curve.contrast
  return (contrasted * (1 + curve.shoulder)) / (1 + curve.shoulder * contrasted)
}

/** Inverse of {@link bent}. */
export function straightened(curve: ToneHypothesis, decoded: number): number {
  const contrasted = decoded / (1 + curve.shoulder - curve.shoulder * decoded)
  return MID_GREY * (Math.max(contrasted, 0) / MID_GREY) ** (1 / curve.contrast)
}

/** ln of the factors by which G/R and B/R must be multiplied if the camera had this curve. */
export interface RatioCorrection {
  readonly green: number
  readonly blue: number
}

/**
 * The correction of decoded Display P3 ratios for a curve that acts on the channels of the file.
 *
 * @param storedLevels codes 0..1 of the region, in the file's own space
 */
export function ratioCorrection(
  curve: ToneHypothesis,
  storedLevels: Triple,
  space: RgbSpace,
): RatioCorrection {
  if (curve.kind === 'ratio') return { green: 0, blue: 0 }
  const decoded: Triple = [
    decodeTransfer(storedLevels[0]),
    decodeTransfer(storedLevels[1]),
    decodeTransfer(storedLevels[2]),
  ]
  const light: Triple = [
    straightened(curve, decoded[0]),
    straightened(curve, decoded[1]),
    straightened(curve, decoded[2]),
  ]
  const p3 = (rgb: Triple) => (space === 'srgb' ? transform(P3_FROM_SRGB, rgb) : rgb)
  const before = p3(decoded)
  const after = p3(light)
  const log = (channel: 1 | 2) => {
    const factor = after[channel] / after[0] / (before[channel] / before[0])
    return factor > 0 && Number.isFinite(factor) ? Math.log(factor) : 0
  }
  return { green: log(1), blue: log(2) }
}

/** Covariance of the corrections of ln(G/R) and ln(B/R): one contrast bends both. */
function correctionCovariance(storedLevels: Triple, space: RgbSpace): number {
  const all = TONE_CURVES.map((curve) => ({
    weight: curve.weight,
    ...ratioCorrection(curve, storedLevels, space),
  }))
  const mean = (of: 'green' | 'blue') => all.reduce((sum, one) => sum + one.weight * one[of], 0)
  const [green, blue] = [mean('green'), mean('blue')]
  return all.reduce((sum, one) => sum + one.weight * (one.green - green) * (one.blue - blue), 0)
}

/** Mean and variance of a correction over all possible curves. */
export function correctionMoments(
  storedLevels: Triple,
  space: RgbSpace,
  channel: keyof RatioCorrection,
): { readonly mean: number; readonly variance: number } {
  const all = TONE_CURVES.map((curve) => ({
    weight: curve.weight,
    value: ratioCorrection(curve, storedLevels, space)[channel],
  }))
  const mean = all.reduce((sum, { weight, value }) => sum + weight * value, 0)
  const variance = all.reduce((sum, { weight, value }) => sum + weight * (value - mean) ** 2, 0)
  return { mean, variance }
}

/** What a photo's way to linear light leaves open: correction of ln of a channel over red, and variance. */
export function curveMoments(
  linearity: Linearity,
  channel: keyof RatioCorrection,
): { readonly mean: number; readonly variance: number } {
  switch (linearity.kind) {
    case 'sweep': {
      const { standardUncertaintyGreen: green, standardUncertaintyBlue: blue } = linearity
      const { ownUncertainty = 0 } = linearity
      return { mean: 0, variance: (channel === 'green' ? green : blue) ** 2 + ownUncertainty ** 2 }
    }
    case 'single':
      return correctionMoments(linearity.storedLevels, linearity.space, channel)
    default:
      return { mean: 0, variance: 0 }
  }
}

/**
 * Covariance of ln(G/R) and ln(B/R) by what the tone curve leaves open. Of a recovered curve the two
 * stand for different codes: what the recovery left open of them is taken as independent.
 */
export function curveCovariance(linearity: Linearity): number {
  switch (linearity.kind) {
    case 'sweep':
      return (linearity.ownUncertainty ?? 0) ** 2
    case 'single':
      return correctionCovariance(linearity.storedLevels, linearity.space)
    default:
      return 0
  }
}
