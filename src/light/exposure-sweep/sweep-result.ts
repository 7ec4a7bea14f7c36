import type { Triple } from '../../numerics/matrix3.ts'
import type { LightFinding } from '../finding.ts'
import type { LinearColour, StoredImage } from '../image.ts'
import type { SweptCurveKind } from './response.ts'
import type { ToneCurve } from './tone-curve.ts'

/** Different exposures without clipping that a curve can be found from. */
export const LEAST_FRAMES = 4

/** One photo of a sweep, in the order of taking. All have the same size and colour space. */
export interface SweepFrame {
  /** The whole picture or the same crop of each, with some 30 pixels around the region. */
  readonly image: StoredImage
  /** Exposure time times ISO over the square of the f-number, in any unit; > 0. */
  readonly relativeExposure: number
  /** The same piece of a grey card in each, where the balance moves from photo to photo. */
  readonly card?: StoredImage
}

export type SweepRefusal =
  | 'too few frames'
  | 'frames differ in size'
  /** Stated exposures are (nearly) the same. */
  | 'exposures do not differ'
  /** Codes and stated exposures do not go together; `frame` is the worst. */
  | 'exposures disagree'
  | 'scene moved'
  /** Too few frames are left without a clipped channel. */
  | 'clipped'
  | 'dark'
  /** The card that the balance is followed by can be read in too few frames. */
  | 'card not seen'
  /** Red never comes down to the codes of green: the sweep must go further down. */
  | 'no shared codes'
  /** First and last frame of the same exposure differ too much. */
  | 'glow changed'
  /** Both kinds of tone curve fit and say things too different for one figure. */
  | 'curve kind undecided'
  /** Residuals depend on the place in the picture. */
  | 'local tone mapping'
  | 'does not fit'

export type SweepFinding = LightFinding<
  /** The first exposure was not repeated at the end: drift cannot be seen. */
  | 'not repeated'
  | 'drift corrected'
  /** As a warning: they say different things, and the figure lies between. */
  | 'both kinds averaged'
  /** The stated exposure of `frame` did not go with the others and was not relied on. */
  | 'exposure left open'
  | 'sweep short'
  /** Most cameras' curves have a contrast near 1.16. */
  | 'unusual contrast'
  | 'frames aligned'
  | 'blue not seen'
  | 'background'
  /** The card showed how the balance moved from photo to photo; photos without a readable card are out. */
  | 'balance followed'
  /** The surroundings changed colour between the photos. */
  | 'balance moved'
>

/** What became of one frame. */
export interface FrameReport {
  readonly status: 'used' | 'clipped' | 'dark' | 'card not seen'
  /** Mean codes of the region, 0..255. */
  readonly codes: Triple
  readonly clippedShare: number
  readonly shift: { readonly dx: number; readonly dy: number }
  /** Residuals in ln light; null where a channel was not used. */
  readonly residuals: readonly (number | null)[] | null
  /** ln(true / stated exposure) as found. */
  readonly exposureError: number | null
}

/** How far down a sweep must go, in stops below its brightest unclipped frame. */
export interface SweepDepth {
  /** log2(R/G) + 3. */
  readonly neededStops: number
  readonly givenStops: number
}

export interface SweepMeasurement {
  readonly kind: 'measured'
  /**
   * Linear Display P3 at the brightest used frame, background taken off. Its covariance is that of
   * the background alone: all that the recovery leaves open stands in the two numbers below.
   */
  readonly glow: LinearColour
  /** Standard uncertainty of ln(G/R) and ln(B/R) in Display P3, by the recovery. */
  readonly standardUncertaintyGreen: number
  readonly standardUncertaintyBlue: number
  /**
   * What of the first the curve itself has left open, by its causes: photos that are read by the curve
   * err by them too. Empty where the curve keeps ratios.
   */
  readonly greenErrors: readonly number[]
  readonly curve: ToneCurve
  /** Probability of {@link curve}'s kind against the other; an undecided curve lies between both. */
  readonly kindProbability: number
  /** Odds of a curve on each channel by this sweep alone: what others of its camera may count on. */
  readonly channelOdds: number
  /** ln(G/R) in the file's space by each kind. */
  readonly byKind: Readonly<Record<SweptCurveKind, number>>
  /** The same by plain equal codes, for comparison; null where none are shared. */
  readonly byEqualCodes: number | null
  readonly frames: readonly FrameReport[]
  readonly depth: SweepDepth
  /** Change of ln R, ln G, ln B from first to last frame. */
  readonly drift: Triple
  readonly findings: readonly SweepFinding[]
}

export interface SweepRefused {
  readonly kind: 'refused'
  readonly reason: SweepRefusal
  /** Numbers for the sentence. */
  readonly values: Readonly<Record<string, number>>
  readonly frames: readonly FrameReport[]
  readonly depth: SweepDepth | null
}

export type SweepResult = SweepMeasurement | SweepRefused

/**
 * Whether the kind of the curve stayed open: between both it is good for its own sweep, too vague for
 * single photos of other levels.
 */
export const kindOpen = ({ findings }: Pick<SweepMeasurement, 'findings'>): boolean =>
  findings.some(({ code, weight }) => code === 'both kinds averaged' && weight === 'warning')
