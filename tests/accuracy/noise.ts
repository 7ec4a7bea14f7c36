/**
 * Pixel noise alone: does the temperature spread as little as the light allows, and does the budget
 * say so? Cameras whose locus is known from many exact references.
 */

import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { GreyBalance } from '../../src/estimate/types.ts'
import {
  glowSpectrum,
  type SimulatedCamera,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import { cholesky, solveCholesky } from '../../src/numerics/linear-algebra.ts'
import { diagonal, type Matrix3, type Triple } from '../../src/numerics/matrix3.ts'
import type { TestSet } from './cameras.ts'
import { inputOf, referenceOf, stateOf } from './conditions.ts'
import { deliveredPatch, type Sensor } from './photograph.ts'
import { seeded } from './random.ts'

const TEMPERATURES_K = [1000, 1173, 1357.8, 1600]
const LADDER_K = [950, 1050, 1150, 1250, 1350, 1450, 1600, 1800]

export interface NoiseRow {
  readonly temperatureK: number
  /** Over draws, root mean square over cameras. */
  readonly spreadK: number
  readonly boundTwoChannelsK: number
  readonly boundThreeChannelsK: number
  /** The budget's noise term, root mean square over cameras. */
  readonly statedK: number
}

/**
 * Cramér-Rao bound of the temperature with unknown exposure, K.
 *
 * @param channels of linear Display P3, from which the temperature is taken
 */
export function cramerRaoK(
  camera: SimulatedCamera,
  temperatureK: number,
  sensor: Sensor,
  channels: readonly (0 | 1 | 2)[],
): number {
  const at = (kelvin: number) => deliveredPatch(camera, glowSpectrum(kelvin), sensor, null)
  const { mean, covariance } = at(temperatureK)
  const [hot, cold] = [at(temperatureK + 0.5).mean, at(temperatureK - 0.5).mean]
  const factor = cholesky(channels.map((i) => channels.map((j) => covariance[i]![j]!)))
  const byKelvin = channels.map((c) => hot[c] - cold[c])
  const byExposure = channels.map((c) => mean[c])
  const information = (a: readonly number[], b: readonly number[]) =>
    solveCholesky(factor, a).reduce((sum, value, i) => sum + value * b[i]!, 0)
  const tt = information(byKelvin, byKelvin)
  const te = information(byKelvin, byExposure)
  const ee = information(byExposure, byExposure)
  return 1 / Math.sqrt(tt - (te * te) / ee)
}

/** @param cameras how many of the set, evenly spread */
export function noiseCheck(
  set: TestSet,
  sensor: Sensor,
  cameras: number,
  draws: number,
): NoiseRow[] {
  const step = Math.max(1, Math.floor(set.cameras.length / cameras))
  const tested = set.cameras.filter((_, i) => i % step === 0)
  return TEMPERATURES_K.map((temperatureK) => {
    const sums = { spread: 0, two: 0, three: 0, stated: 0, cameras: 0 }
    for (const [index, { name, sensitivity, locus }] of tested.entries()) {
      const camera = simulateCamera(sensitivity, set.training, 'daylight')
      const state = stateOf('daylight')
      const references = LADDER_K.map((kelvin) =>
        referenceOf(
          { name },
          { temperatureK: kelvin, standardUncertaintyK: 0.2 },
          EXACT_BALANCE,
          state,
          noiseless(deliveredPatch(camera, glowSpectrum(kelvin), sensor, null).mean),
        ),
      )
      const random = seeded(7919 * index + Math.round(temperatureK))
      const values: number[] = []
      let stated = 0
      for (let draw = 0; draw < draws; draw++) {
        const glow = deliveredPatch(camera, glowSpectrum(temperatureK), sensor, random)
        const estimate = estimateGlow(
          inputOf({ name }, EXACT_BALANCE, state, glow, references),
          locus,
        )
        if (estimate.kind !== 'temperature') continue
        values.push(estimate.temperatureK)
        const noise = estimate.budget.find(({ term }) => term === 'pixel noise')
        stated += (noise?.standardUncertaintyK ?? 0) ** 2 / draws
      }
      if (values.length < draws) continue
      const mean = values.reduce((sum, value) => sum + value, 0) / draws
      sums.spread += values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (draws - 1)
      sums.two += cramerRaoK(camera, temperatureK, sensor, [0, 1]) ** 2
      sums.three += cramerRaoK(camera, temperatureK, sensor, [0, 1, 2]) ** 2
      sums.stated += stated
      sums.cameras++
    }
    const rms = (sum: number) => Math.sqrt(sum / sums.cameras)
    return {
      temperatureK,
      spreadK: rms(sums.spread),
      boundTwoChannelsK: rms(sums.two),
      boundThreeChannelsK: rms(sums.three),
      statedK: rms(sums.stated),
    }
  })
}

/** The card taken without noise. */
const EXACT_BALANCE: GreyBalance = {
  id: 'card',
  logGains: [0, 0, 0],
  covariance: diagonal([0, 0, 0]),
  light: { kind: 'daylight', colourTemperatureK: 6504, standardUncertaintyK: 0 },
}

function noiseless(mean: Triple): { mean: Triple; covariance: Matrix3 } {
  return { mean, covariance: diagonal([1e-12, 1e-14, 1e-14]) }
}
