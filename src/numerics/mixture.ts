import { normalCdf } from './heavy-tails.ts'

/** A normal distribution with its share of a mixture. */
export interface NormalPart {
  readonly weight: number
  readonly mean: number
  readonly sd: number
}

/** Standard deviations within which every quantile that is asked for lies. */
const REACH = 12
/** Halvings: from a span of 1000 to 1e-9. */
const HALVINGS = 40

/**
 * Quantiles of a mixture of normal distributions, by bisection.
 *
 * @param parts weights that sum to 1, sd > 0
 * @param probabilities above 1e-9, below 1 - 1e-9
 */
export function mixtureQuantiles(
  parts: readonly NormalPart[],
  probabilities: readonly number[],
): number[] {
  const least = Math.min(...parts.map(({ mean, sd }) => mean - REACH * sd))
  const most = Math.max(...parts.map(({ mean, sd }) => mean + REACH * sd))
  return probabilities.map((probability) => {
    let [low, high] = [least, most]
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (low + high) / 2
      const below = parts.reduce(
        (sum, { weight, mean, sd }) => sum + weight * normalCdf((middle - mean) / sd),
        0,
      )
      if (below < probability) low = middle
      else high = middle
    }
    return (low + high) / 2
  })
}
