import { normalCdf } from '../numerics/heavy-tails.ts'
import type { CameraPosterior } from './camera-posterior.ts'
import type { LeakEstimate } from './types.ts'

/** Halvings of the range of the logarithm: a thousandth of a decade. */
const HALVINGS = 14

/**
 * How much of the infrared this camera's filter lets through, by all that is known of it: a median
 * and the bounds of 95 %, as shares.
 */
export function leakEstimate({ problem, hypotheses }: CameraPosterior): LeakEstimate {
  const place = problem.coefficients.findIndex(({ term }) => term === 'infrared leak')
  const parts = hypotheses.map(({ camera, conditioned, weight }) => {
    const { leak } = problem.cameras[camera]!
    const loading = problem.coefficients.map((_, k) => (k === place ? leak.sd : 0))
    const seen = conditioned.predict(loading)
    const variance = conditioned.covarianceOf(loading, loading, seen, seen)
    return { weight, mean: leak.mean + seen.mean, sd: Math.sqrt(variance) + 1e-9 }
  })
  const at = (probability: number): number => {
    let [low, high] = [Math.log(1e-6), Math.log(0.03)]
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (low + high) / 2
      const leak = Math.exp(middle)
      const below = parts.reduce(
        (sum, { weight, mean, sd }) => sum + weight * normalCdf((leak - mean) / sd),
        0,
      )
      if (below < probability) low = middle
      else high = middle
    }
    return Math.exp((low + high) / 2)
  }
  return { median: at(0.5), low95: at(0.025), high95: at(0.975) }
}
