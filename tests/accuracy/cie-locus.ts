/**
 * The textbook way, for comparison: the camera taken for an eye, temperature from G/R on the CIE
 * 1931 Planckian locus. Its interval is the root mean square departure of known cameras, uncorrected.
 */

import { linearP3FromXyz } from '../../src/colour/rgb-spaces.ts'
import { planckXyz } from '../../src/colour/xyz.ts'
import { NORMAL_95 } from '../../src/estimate/budget.ts'
import type { CameraLocus } from '../../src/estimate/camera-locus/types.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import type { GlowInput } from '../../src/estimate/types.ts'
import type { Outcome } from './score.ts'

const ratioOf = (temperatureK: number): number => {
  const [r, g] = linearP3FromXyz(planckXyz(temperatureK))
  return g / r
}

const COLDEST_K = 700
const HOTTEST_K = 4000

export function cieLocusReading(input: GlowInput, locus: CameraLocus): Outcome {
  const { mean } = input.glow
  const [lr, lg] = input.balance?.logGains ?? [0, 0, 0]
  const measured = (mean[1] * Math.exp(lg)) / (mean[0] * Math.exp(lr))
  let low = COLDEST_K
  let high = HOTTEST_K
  if (measured <= ratioOf(low) || measured >= ratioOf(high)) return { kind: 'no number' }
  while (high - low > 1e-4) {
    const middle = (low + high) / 2
    if (ratioOf(middle) < measured) low = middle
    else high = middle
  }
  const temperatureK = (low + high) / 2
  const point = cameraModel(locus, 'display-p3', input.balanceState).green(temperatureK)
  const slope = (ratioOf(temperatureK + 1) - ratioOf(temperatureK - 1)) / 2
  const departure = Math.hypot(point.mean - ratioOf(temperatureK), ...point.loadings)
  const halfWidthK = (NORMAL_95 * departure) / slope
  return {
    kind: 'temperature',
    warned: false,
    temperatureK,
    low: temperatureK - halfWidthK,
    high: temperatureK + halfWidthK,
  }
}
