import type { RatioPoint } from './camera-model.ts'
import type { CameraPosterior } from './camera-posterior.ts'
import { dot } from './conditioning.ts'

/**
 * G/R and B/R that are to be expected of the camera with the likeliest leak. Those of a mean leak no
 * camera has: a few leaks are so large that they would colour all.
 */
export function expectedRatios({ hypotheses, problem }: CameraPosterior) {
  const weights = problem.cameras.map(() => 0)
  for (const { camera, weight } of hypotheses) weights[camera]! += weight
  const likeliest = weights.indexOf(Math.max(...weights))
  const { model } = problem.cameras[likeliest]!
  const coefficients = problem.coefficients.map(() => 0)
  for (const { camera, weight, conditioned } of hypotheses)
    if (camera === likeliest)
      for (const [k, mean] of conditioned.mean.entries())
        coefficients[k]! += (weight / weights[likeliest]!) * mean
  const value = ({ mean, loadings }: RatioPoint) => {
    const at = mean + dot(loadings, coefficients)
    return model.scale === 'log' ? Math.exp(at) : at
  }
  return (kelvin: number) => ({
    green: value(model.green(kelvin)),
    blue: value(model.blue(kelvin)),
  })
}
