import { normalCdf } from '../numerics/heavy-tails.ts'
import type { CameraPosterior } from './camera-posterior.ts'
import { readingEquation } from './glow-equations.ts'
import { residualOf } from './reading-residual.ts'

/** Halvings of the range of the locus in 1/T: 0.1 K at its hot end. */
const HALVINGS = 15
/** A bound that 1 glow in 40 exceeds, as often as the upper end of an interval. */
const EXCEEDED = 0.025

/**
 * Colour temperature, K, at which 1 camera in 40 would store as little green as this: the upper limit
 * of a glow too dull to measure. A share of cameras at each temperature, not of temperatures: how
 * often dull glows are photographed does not enter. Blue does not count: it is dark there.
 *
 * @returns an end of the locus where it lies beyond
 */
export function hottestOfSoLittleGreen(posterior: CameraPosterior): number {
  const { problem, hypotheses } = posterior
  const share = (kelvin: number) =>
    hypotheses.reduce((sum, hypothesis) => {
      const equation = readingEquation(problem, kelvin, hypothesis.curve, hypothesis.camera)
      const { green, greenSd } = residualOf(equation, hypothesis)
      return sum + hypothesis.weight * normalCdf(green / greenSd)
    }, 0)
  let [hot, cold] = [1 / problem.model.hottestK, 1 / problem.model.coldestK]
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (hot + cold) / 2
    if (share(1 / middle) < EXCEEDED) hot = middle
    else cold = middle
  }
  return 1 / hot
}
