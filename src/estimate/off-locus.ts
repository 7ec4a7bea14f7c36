/**
 * Can this camera see such a colour in a glowing body? G/R fixes the temperature; blue is left to
 * ask. A filter that leaks infrared is one of the things a camera may be; light that is not of the
 * glow (haze, flare, a lamp, a tint, a wrong white balance) puts blue where no such camera has any.
 */
import type { CameraPosterior } from './camera-posterior.ts'
import { readingEquation } from './glow-equations.ts'
import { residualOf } from './reading-residual.ts'
import type { OffLocusTest } from './types.ts'

/** Below this chance for a true glow the colour is called off the locus. */
export const OFF_LOCUS_PROBABILITY = 0.01

/** What was measured too much of blue, in units of red, and how likely that is. */
export interface OffLocus extends OffLocusTest {
  /** Measured less expected B/R. */
  readonly excess: number
}

const UNTESTABLE: OffLocus = { chiSquared: 0, probability: 1, verdict: 'not testable', excess: 0 }

/** @param colourTemperatureK as estimated */
export function offLocus(posterior: CameraPosterior, colourTemperatureK: number): OffLocus {
  const { problem, hypotheses } = posterior
  if (problem.reading.blue?.kind !== 'value') return UNTESTABLE
  const equations = problem.curves.map((_, curve) =>
    problem.cameras.map((_, camera) => readingEquation(problem, colourTemperatureK, curve, camera)),
  )
  const sums = { weight: 0, probability: 0, chiSquared: 0, excess: 0 }
  for (const hypothesis of hypotheses) {
    const equation = equations[hypothesis.curve]![hypothesis.camera]!
    const { green, greenSd, blue } = residualOf(equation, hypothesis)
    if (blue === null) continue
    // Green weights the hypotheses; blue is what is tested.
    const weight = (hypothesis.weight * Math.exp(-0.5 * (green / greenSd) ** 2)) / greenSd
    const z = blue.value / blue.sd
    sums.weight += weight
    sums.probability += weight * twoSidedT3(z)
    sums.chiSquared += weight * z * z
    sums.excess += weight * blue.value
  }
  if (!(sums.weight > 0)) return UNTESTABLE
  const probability = sums.probability / sums.weight
  const chiSquared = sums.chiSquared / sums.weight
  const mean = sums.excess / sums.weight
  const verdict =
    probability >= OFF_LOCUS_PROBABILITY ? 'on the locus' : mean > 0 ? 'too blue' : 'too yellow'
  const log = problem.model.scale === 'log'
  return {
    chiSquared,
    probability,
    verdict,
    excess: log ? problem.colour.blue * -Math.expm1(-mean) : mean,
  }
}

/** Chance beyond +-z for Student's t with 3 degrees of freedom, scaled to variance 1. */
export function twoSidedT3(deviations: number): number {
  // t = sqrt(3) z; F(t) = 1/2 + (atan(z) + z / (1 + z^2)) / pi, with t / sqrt(3) = z.
  const z = Math.abs(deviations)
  return 1 - (2 / Math.PI) * (Math.atan(z) + z / (1 + z * z))
}
