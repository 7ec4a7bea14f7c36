import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { estimateGlow } from './estimate-glow.ts'
import { type JointPosterior, joinable, jointPosterior } from './joint-posterior.ts'
import type { GlowInput, TemperatureEstimate } from './types.ts'

/** The uncertainty of several readings by one camera, in what moves all together and what does not. */
export interface JointSpread {
  /** Standard uncertainty of the mean of all, K. */
  readonly commonK: number
  /** Standard uncertainty of each reading against that mean, K. */
  readonly ownK: readonly number[]
}

/**
 * @param inputs at least two
 * @returns null where they have no camera in common, or one of them no temperature
 */
export function jointSpread(
  inputs: readonly GlowInput[],
  locus: CameraLocus = CAMERA_LOCUS,
): JointSpread | null {
  const [first] = inputs
  if (!first || inputs.length < 2 || !inputs.every((input) => joinable(first, input))) return null
  const alone: TemperatureEstimate[] = []
  for (const input of inputs) {
    const estimate = estimateGlow(input, locus)
    if (estimate.kind !== 'temperature') return null
    alone.push(estimate)
  }
  return spreadOf(jointPosterior(inputs, alone, locus), alone)
}

function spreadOf(
  { components }: JointPosterior,
  alone: readonly TemperatureEstimate[],
): JointSpread {
  const n = components[0]!.temperaturesK.length
  const even = Array.from({ length: n }, () => 1 / n)
  const against = even.map((_, i) => even.map((share, j) => (i === j ? 1 : 0) - share))
  /** Standard deviation of a weighted sum of the temperatures, over all hypotheses. */
  const deviation = (weights: readonly number[]) => {
    const sums = components.map(({ weight, temperaturesK, covarianceK2 }) => ({
      weight,
      mean: weights.reduce((sum, w, i) => sum + w * temperaturesK[i]!, 0),
      variance: weights.reduce(
        (sum, a, i) => sum + a * weights.reduce((row, b, j) => row + b * covarianceK2[i]![j]!, 0),
        0,
      ),
    }))
    const mean = sums.reduce((sum, one) => sum + one.weight * one.mean, 0)
    const square = sums.reduce((sum, { weight, mean: m, variance }) => {
      return sum + weight * (variance + (m - mean) ** 2)
    }, 0)
    return Math.sqrt(Math.max(square, 0))
  }
  const ownK = against.map(deviation)
  // Of the readings alone: the joint posterior holds each to them, so that their mean counts them twice.
  const common = alone.reduce(
    (sum, one, i) => sum + one.standardUncertaintyK ** 2 - ownK[i]! ** 2,
    0,
  )
  return { commonK: Math.sqrt(Math.max(common / n, 0)), ownK }
}
