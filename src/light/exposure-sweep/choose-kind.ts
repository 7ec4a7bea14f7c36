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

/** Both kinds of tone curve weighed against each other. */
export interface Choice {
  readonly better: Recovery
  readonly probability: number
  readonly byKind: Readonly<Record<SweptCurveKind, number>>
  /**
   * Of the better kind where that is decided; else the mean over the kinds by probability, and the
   * covariance with the spread between them.
   */
  readonly lnLight: Triple
  readonly covariance: Matrix3
  /** What the spread between the kinds adds to ln(G/R); 0 where the kind is decided. */
  readonly kindSpread: number
}

/** Exposures as stated (electronic shutters), or rounded to the usual series: 1/60 may be 1/64. */
const EXPOSURES = [0.002, 0.02] as const

/** ln(G/R) in Display P3 of what is photographed: from a dull glow (-3.4) to a lamp (-0.5). */
const GLOW = { mean: -1.7, sd: 0.9 }

/** How well a recovered light goes with that; 1 at best. */
function glowLikely(lnLight: Triple, space: RgbSpace): number {
  const [r, g] = linearP3Of(space, [1, Math.exp(lnLight[1] - lnLight[0]), 0])
  const z = (Math.log(Math.max(g / r, 1e-9)) - GLOW.mean) / GLOW.sd
  return Math.exp(-(z * z) / 2)
}

/** One kind with every prior. */
interface Fits {
  readonly deviances: readonly number[]
  /** The most probable one with a free curve: stiffer ones would cut a bend off. */
  readonly best: Recovery
}

/** Recovers the response of one kind with each prior; all are taken as equally probable before. */
export function recoverKind(
  frames: readonly FrameLevels[],
  kind: SweptCurveKind,
  driftSeen: boolean,
): Fits {
  const withEach = (bend: Omit<ResponsePrior, 'exposure'>) =>
    EXPOSURES.map((exposure) => recoverResponse(frames, kind, driftSeen, { ...bend, exposure }))
  const free = FREE.flatMap(withEach)
  return {
    deviances: [...free, ...STIFF.flatMap(withEach)].map(({ deviance }) => deviance),
    best: free.reduce((a, b) => (b.deviance < a.deviance ? b : a)),
  }
}

/**
 * Which kind of curve the frames show. Probabilities are the sums over the priors of the evidence
 * (Kass & Raftery 1995), in units of the noise that the best fit shows.
 *
 * @param driftSeen the first exposure was repeated at the end
 */
export function chooseKind(
  frames: readonly FrameLevels[],
  driftSeen: boolean,
  space: RgbSpace,
): Choice {
  const channel = recoverKind(frames, 'channel', driftSeen)
  const ratio = recoverKind(frames, 'ratio', driftSeen)
  const scale = Math.max(1, Math.min(channel.best.misfit, ratio.best.misfit)) ** 2
  const least = Math.min(...channel.deviances, ...ratio.deviances)
  const evidence = ({ deviances, best }: Fits) =>
    glowLikely(best.lnLight, space) *
    deviances.reduce((sum, deviance) => sum + Math.exp((least - deviance) / (2 * scale)), 0)
  const probabilityOfChannel = evidence(channel) / (evidence(channel) + evidence(ratio))
  const [better, probability] =
    probabilityOfChannel >= 0.5
      ? [channel.best, probabilityOfChannel]
      : [ratio.best, 1 - probabilityOfChannel]
  const other = better === channel.best ? ratio.best : channel.best
  const difference = ([0, 1, 2] as const).map(
    (c) =>
      // Light is known up to a scale: compare against red.
      other.lnLight[c] - other.lnLight[0] - (better.lnLight[c] - better.lnLight[0]),
  ) as unknown as Triple
  const weight = probability >= DECIDED ? 0 : 1 - probability
  const spread = meanOuterProduct([difference], weight * (1 - weight))
  const green = (r: Recovery) => r.lnLight[1] - r.lnLight[0]
  return {
    better,
    probability,
    byKind: { channel: green(channel.best), ratio: green(ratio.best) },
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
    kindSpread: Math.sqrt(spread[1][1]),
  }
}
