import { diagonal, type Matrix3, type Triple } from '../../colour/vectors.ts'
import { addMatrices, meanOuterProduct } from '../statistics.ts'
import type { Recovery } from './recover-response.ts'

/** Part of a drift that its straight line may miss where it counts. */
const DRIFT_SHAPE = 0.05

/** Both kinds of tone curve weighed against each other. */
export interface Choice {
  readonly better: Recovery
  readonly probability: number
  readonly byKind: Readonly<Record<'channel' | 'ratio', number>>
  /** Mean over the kinds by probability, and the covariance with the spread between them. */
  readonly lnLight: Triple
  readonly covariance: Matrix3
  /** What the spread between the kinds adds to ln(G/R). */
  readonly kindSpread: number
}

/**
 * Probabilities of the kinds from the difference of their deviances (twice the log of the Bayes
 * factor; Kass & Raftery 1995), in units of the noise that the better fit shows.
 */
export function chooseKind(channel: Recovery, ratio: Recovery): Choice {
  const scale = Math.max(1, Math.min(channel.misfit, ratio.misfit)) ** 2
  const probabilityOfChannel = 1 / (1 + Math.exp((channel.deviance - ratio.deviance) / (2 * scale)))
  const [better, probability] =
    probabilityOfChannel >= 0.5
      ? [channel, probabilityOfChannel]
      : [ratio, 1 - probabilityOfChannel]
  const other = better === channel ? ratio : channel
  const difference = ([0, 1, 2] as const).map(
    (c) =>
      // Light is known up to a scale: compare against red.
      other.lnLight[c] - other.lnLight[0] - (better.lnLight[c] - better.lnLight[0]),
  ) as unknown as Triple
  const weight = 1 - probability
  const spread = meanOuterProduct([difference], weight * probability)
  const green = (r: Recovery) => r.lnLight[1] - r.lnLight[0]
  return {
    better,
    probability,
    byKind: { channel: green(channel), ratio: green(ratio) },
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
