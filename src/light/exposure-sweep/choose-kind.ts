import { diagonal, type Matrix3, type Triple } from '../../numerics/matrix3.ts'
import { addMatrices, meanOuterProduct } from '../../numerics/statistics.ts'
import type { RgbSpace } from '../image.ts'
import { linearP3Of } from '../tone-response.ts'
import {
  type FrameLevels,
  type Recovery,
  type ResponsePrior,
  recoverResponse,
} from './recover-response.ts'
import type { SweptCurveKind } from './response.ts'
import { FREE, STIFF } from './response-prior.ts'

/** Part of a drift that its straight line may miss where it counts. */
const DRIFT_SHAPE = 0.05

/** A kind as probable as this is taken as the true one: a chance of 2 % lies outside of 95 %. */
const DECIDED = 0.98
/** Kinds that spread ln(G/R) in Display P3 by more than this lie apart: both have to be within the interval. */
export const APART = 0.025
/** The farther kind is then so many standard uncertainties off: 1.96 would put it on the very end. */
const REACH = 1.7

/** Both kinds of tone curve weighed against each other. */
export interface Choice {
  readonly better: Recovery
  readonly probability: number
  /** The frame whose stated exposure the better one does not rely on. */
  readonly odd: number | null
  /** The best curve on each channel, and its probability against one that keeps ratios. */
  readonly channel: Recovery
  readonly ofChannel: number
  readonly byKind: Readonly<Record<SweptCurveKind, number>>
  /**
   * Of the better kind where that is decided; else the mean over the kinds by probability, and the
   * covariance with the spread between them, which reaches to the farther one where they lie apart.
   */
  readonly lnLight: Triple
  readonly covariance: Matrix3
  /** What the spread between the kinds adds to ln(G/R) in Display P3; 0 where the kind is decided. */
  readonly kindSpread: number
}

/** Exposures as stated (electronic shutters), or rounded to the usual series: 1/60 may be 1/64. */
const EXPOSURES = [0.002, 0.02] as const

/** ln(G/R) in Display P3 of what is photographed: from a dull glow (-3.4) to a lamp (-0.5). */
const GLOW = { mean: -1.7, sd: 0.9 }

/** ln(G/R) in Display P3 of a recovered light; its blue hardly matters. */
function greenInP3(lnLight: Triple, space: RgbSpace): number {
  const [r, g] = linearP3Of(space, [1, Math.exp(lnLight[1] - lnLight[0]), 0])
  return Math.log(Math.max(g / r, 1e-9))
}

/** How well a recovered light goes with that; 1 at best. */
function glowLikely(lnLight: Triple, space: RgbSpace): number {
  const z = (greenInP3(lnLight, space) - GLOW.mean) / GLOW.sd
  return Math.exp(-(z * z) / 2)
}

/** One recovery with what it takes for granted. */
interface Fit {
  readonly recovery: Recovery
  /** The frame whose stated exposure it does not rely on. */
  readonly odd: number | null
  /** ln of the odds before the frames were seen, against any other prior. */
  readonly lnPrior: number
}

/** One kind with every prior. */
interface Fits {
  readonly all: readonly Fit[]
  /** The most probable one with a free curve: stiffer ones would cut a bend off. */
  readonly best: Fit
}

/**
 * A mistyped step, a camera that changed ISO by itself: odds, and what is left open of that exposure,
 * ln. With fewer frames nothing would show which of them it is.
 */
const ODD = { odds: 0.05, open: 1, leastFrames: 6 } as const

const weightOf = ({ lnPrior, recovery }: Fit) => lnPrior - recovery.deviance / 2

/**
 * Recovers the response of one kind with each prior; all are taken as equally probable before, and
 * a frame of wrong exposure as less so. A curve free to bend would take it for its own shape.
 */
export function recoverKind(
  frames: readonly FrameLevels[],
  kind: SweptCurveKind,
  driftSeen: boolean,
): Fits {
  const fitBy = (prior: ResponsePrior): Fit => ({
    recovery: recoverResponse(frames, kind, driftSeen, prior),
    odd: null,
    lnPrior: 0,
  })
  const withEach = (bend: Omit<ResponsePrior, 'exposure'>) =>
    EXPOSURES.map((exposure) => fitBy({ ...bend, exposure }))
  const free = FREE.flatMap(withEach)
  const withOdd =
    frames.length >= ODD.leastFrames ? [oddFit(frames, kind, driftSeen, free[0]!)] : []
  return {
    all: [...free, ...STIFF.flatMap(withEach), ...withOdd],
    best: [...free, ...withOdd].reduce((a, b) => (weightOf(b) > weightOf(a) ? b : a)),
  }
}

/** One exposure is not relied on: that by whose opening the frames become the most probable. */
function oddFit(
  frames: readonly FrameLevels[],
  kind: SweptCurveKind,
  driftSeen: boolean,
  { recovery }: Fit,
): Fit {
  const stated = EXPOSURES[0] ** 2
  // What the frames alone say of an error, against a normal one of the stated size or of any: in a
  // line from the recovery that takes them as stated.
  const gains = recovery.exposureErrors.map((error, k) => {
    const information = Math.max(1 / recovery.exposureVariances[k]! - 1 / stated, 1e-9)
    const seen = error / recovery.exposureVariances[k]! / information
    const [close, far] = [1 / information + stated, 1 / information + ODD.open ** 2]
    return seen ** 2 / close - seen ** 2 / far - Math.log(far / close)
  })
  const odd = gains.indexOf(Math.max(...gains))
  const opened = frames.map((frame, k) =>
    k === odd ? { ...frame, lnExposureUncertainty: ODD.open } : frame,
  )
  const prior = { ...FREE[0], exposure: EXPOSURES[0] }
  return {
    recovery: recoverResponse(opened, kind, driftSeen, prior),
    odd,
    lnPrior: Math.log(ODD.odds / frames.length),
  }
}

/**
 * Which kind of curve the frames show. Probabilities are the sums over the priors of the evidence
 * (Kass & Raftery 1995), in units of the noise that the best fit shows.
 *
 * @param driftSeen the first exposure was repeated at the end
 * @param odds of a curve on each channel before these frames, by other sweeps of this camera
 */
export function chooseKind(
  frames: readonly FrameLevels[],
  driftSeen: boolean,
  space: RgbSpace,
  odds = 1,
): Choice {
  const channel = recoverKind(frames, 'channel', driftSeen)
  const ratio = recoverKind(frames, 'ratio', driftSeen)
  const [ofC, ofR] = [channel.best.recovery, ratio.best.recovery]
  const scale = Math.max(1, Math.min(ofC.misfit, ofR.misfit)) ** 2
  const least = Math.min(...[...channel.all, ...ratio.all].map((fit) => fit.recovery.deviance))
  const evidence = ({ all, best }: Fits) =>
    glowLikely(best.recovery.lnLight, space) *
    all.reduce(
      (sum, { recovery, lnPrior }) =>
        sum + Math.exp(lnPrior + (least - recovery.deviance) / (2 * scale)),
      0,
    )
  const forChannel = odds * evidence(channel)
  const ofChannel = forChannel / (forChannel + evidence(ratio))
  const [better, probability] = ofChannel >= 0.5 ? [ofC, ofChannel] : [ofR, 1 - ofChannel]
  const other = better === ofC ? ofR : ofC
  const difference = ([0, 1, 2] as const).map(
    (c) =>
      // Light is known up to a scale: compare against red.
      other.lnLight[c] - other.lnLight[0] - (better.lnLight[c] - better.lnLight[0]),
  ) as unknown as Triple
  const weight = probability >= DECIDED ? 0 : 1 - probability
  const mixed = Math.sqrt(weight * (1 - weight))
  const apartBy = Math.abs(greenInP3(other.lnLight, space) - greenInP3(better.lnLight, space))
  const apart = mixed * apartBy > APART
  const share = apart ? (1 - weight) / REACH : mixed
  const spread = meanOuterProduct([difference], share ** 2)
  const green = (r: Recovery) => r.lnLight[1] - r.lnLight[0]
  return {
    better,
    probability,
    odd: (better === ofC ? channel : ratio).best.odd,
    channel: ofC,
    ofChannel,
    byKind: { channel: green(ofC), ratio: green(ofR) },
    lnLight: [
      better.lnLight[0],
      better.lnLight[1] + weight * difference[1],
      better.lnLight[2] + weight * difference[2],
    ],
    covariance: addMatrices(
      better.covariance,
      spread,
      diagonal([0, (DRIFT_SHAPE * better.drift[0]) ** 2, (DRIFT_SHAPE * better.drift[0]) ** 2]),
    ),
    kindSpread: share * apartBy,
  }
}
