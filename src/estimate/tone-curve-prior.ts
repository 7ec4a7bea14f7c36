/**
 * What is not known about the tone curve of an ordinary photo: which curves cameras have, and how
 * often.
 *
 * Contrast, the slope in log light at mid-grey, is log-normal: 123 measured response curves near the
 * nominal one centre at 1.16 with a standard deviation of the logarithm of 0.151. Shoulder and toe
 * go from a nearly straight curve to that of the DNG reference rendering, which brightens mid-grey
 * twofold and rolls off its last three stops; Grossberg & Nayar 2004 (IEEE PAMI 26, 1272) show the
 * same span. How a curve is applied cannot be told from one photo. Most cameras tabulate it for each
 * channel; a renderer after the DNG specification keeps the hue, and some scale whole pixels. The
 * shares are a judgement: the mean error stays within a third of the spread where all cameras, or three
 * in four of them, act on each channel (METHODS.md).
 */
import { decodeTransfer, P3_FROM_SRGB } from '../colour/rgb-spaces.ts'
import type { RgbSpace } from '../light/image.ts'
import { type Triple, transform } from '../numerics/matrix3.ts'
import {
  type CurveKind,
  straightened,
  type ToneHypothesis,
  toneHypothesis,
  undone,
} from './tone-hypothesis.ts'
import type { Linearity } from './types.ts'

const MEDIAN_CONTRAST = 1.16
const LN_CONTRAST_SD = 0.151
const SHARES: Readonly<Record<CurveKind, number>> = { channel: 1 / 3, hue: 1 / 3, ratio: 1 / 3 }

/** Gauss-Hermite nodes and weights for a standard normal (Abramowitz & Stegun 25.4.46, 25.10). */
const NORMAL_5: readonly (readonly [number, number])[] = [
  [-2.85697001387281, 0.0112574113277207],
  [-1.35562617997427, 0.222075922005613],
  [0, 0.533333333333333],
  [1.35562617997427, 0.222075922005613],
  [2.85697001387281, 0.0112574113277207],
]
const NORMAL_3: readonly (readonly [number, number])[] = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
]
/** Shoulder, toe and weight. */
const SHAPES = [
  [0.3, 0, 0.3],
  [1.5, 0.002, 0.4],
  [4, 0.004, 0.3],
] as const

const contrastAt = (z: number) => MEDIAN_CONTRAST * Math.exp(LN_CONTRAST_SD * z)

export const TONE_CURVES: readonly ToneHypothesis[] = [
  toneHypothesis({ kind: 'ratio', contrast: 1, shoulder: 0, toe: 0, weight: SHARES.ratio }),
  ...NORMAL_3.map(([z, p]) =>
    toneHypothesis({
      kind: 'hue',
      contrast: contrastAt(z),
      shoulder: SHAPES[1][0],
      toe: SHAPES[1][1],
      weight: SHARES.hue * p,
    }),
  ),
  ...NORMAL_5.flatMap(([z, p]) =>
    SHAPES.map(([shoulder, toe, q]) =>
      toneHypothesis({
        kind: 'channel',
        contrast: contrastAt(z),
        shoulder,
        toe,
        weight: SHARES.channel * p * q,
      }),
    ),
  ),
]

/** ln of the factors by which G/R and B/R must be multiplied if the camera had this curve. */
export interface RatioCorrection {
  readonly green: number
  readonly blue: number
}

/**
 * The correction of decoded Display P3 ratios for a curve that acted in the space of the file.
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
  const light = undone(curve, decoded)
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

/** ln of the factor on the light of a channel of this code, 0..1, and what moves it by one standard uncertainty. */
export interface LevelCorrection {
  readonly mean: number
  readonly contrast: number
  readonly shoulder: number
}

/**
 * How a tone curve bends the level of one channel: whole pixels are scaled by curves like those that act
 * on each channel. Contrast and shoulder make nearly all of the spread between curves.
 */
export function levelCorrection(code: number): LevelCorrection {
  const light = decodeTransfer(code)
  const by = (curve: ToneHypothesis) => Math.log(straightened(curve, light) / light)
  const mean = BY_CHANNEL.reduce((sum, curve) => sum + curve.weight * by(curve), 0) / SHARES.channel
  const half = ([more, less]: readonly [ToneHypothesis, ToneHypothesis]) =>
    (by(more) - by(less)) / 2
  return { mean, contrast: half(CONTRASTS), shoulder: SHOULDER_SD * half(SHOULDERS) }
}

const BY_CHANNEL = TONE_CURVES.filter(({ kind }) => kind === 'channel')
const curveOf = (z: number, [shoulder, toe]: (typeof SHAPES)[number]) =>
  toneHypothesis({ kind: 'channel', contrast: contrastAt(z), shoulder, toe, weight: 1 })
const CONTRASTS = [curveOf(1, SHAPES[1]), curveOf(-1, SHAPES[1])] as const
const SHOULDERS = [curveOf(0, SHAPES[2]), curveOf(0, SHAPES[0])] as const
/** The outer two of {@link SHAPES} weigh 0.3 each: variance over that of the step between them and the middle. */
const SHOULDER_SD = Math.sqrt(SHAPES[0][2] + SHAPES[2][2])

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
