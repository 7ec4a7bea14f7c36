/**
 * What the picture of a plate that is too cool to glow says of a camera's infrared filter: it has hardly any
 * visible light, so that its colour is that of the leak.
 */

import { normalDensity } from '../numerics/heavy-tails.ts'
import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { cameraPosterior } from './camera-posterior.ts'
import { readingEquation } from './glow-equations.ts'
import { glowProblem } from './glow-problem.ts'
import { blueLikelihood, residualOf } from './reading-residual.ts'
import type { GlowInput } from './types.ts'

/** Asked for: 450 to 500 °C. A person's surface thermometer is trusted to that. */
const PLATE_K = [723, 748, 773]
/** Leaks that are tried, even in the logarithm. */
const LEAST = 1e-6
const LARGEST = 1e-2
const STEPS = 12
/** Standard deviations of G/R from what any camera would see of one. */
const NO_SUCH_PLATE = 3
/** Of a step in the logarithm, as standard deviation of a leak that is even within it. */
const WIDTH = Math.log(LARGEST / LEAST) / STEPS / Math.sqrt(12)

/**
 * @param input the plate's photo, without known heats
 * @returns the leak's median and the standard uncertainty of its logarithm; null where the colour is that of
 *   no such plate
 */
export function leakOfPlate(
  input: GlowInput,
  locus: CameraLocus = CAMERA_LOCUS,
): { readonly leak: number; readonly lnSd: number } | null {
  const step = Math.log(LARGEST / LEAST) / STEPS
  const leaks = Array.from({ length: STEPS }, (_, i) => {
    const mean = LEAST * Math.exp((i + 0.5) * step)
    return { mean, sd: mean * WIDTH, weight: 1 / STEPS }
  })
  const problem = glowProblem({ ...input, references: [] }, locus, [], leaks)
  const { hypotheses } = cameraPosterior(problem)
  const chances = leaks.map(() => 0)
  let nearest = Number.POSITIVE_INFINITY
  for (const kelvin of PLATE_K) {
    const equations = problem.curves.map((_, curve) =>
      problem.cameras.map((_, camera) => readingEquation(problem, kelvin, curve, camera)),
    )
    for (const hypothesis of hypotheses) {
      const { curve, camera, weight } = hypothesis
      const { green, greenSd, blue } = residualOf(equations[curve]![camera]!, hypothesis)
      nearest = Math.min(nearest, Math.abs(green) / greenSd)
      const ofBlue = blue === null ? 1 : blueLikelihood(blue)
      chances[camera]! += weight * normalDensity(green, greenSd) * ofBlue
    }
  }
  const total = chances.reduce((sum, chance) => sum + chance, 0)
  if (!(total > 0 && nearest < NO_SUCH_PLATE)) return null
  const mean = (of: (lnLeak: number) => number) =>
    leaks.reduce((sum, { mean: leak }, i) => sum + (chances[i]! / total) * of(Math.log(leak)), 0)
  const middle = mean((ln) => ln)
  const variance = mean((ln) => (ln - middle) ** 2) + WIDTH ** 2
  return { leak: Math.exp(middle), lnSd: Math.sqrt(variance) }
}
