/**
 * How much of a camera one known heat can predict at best: a bound that no estimate reaches, for it
 * is fitted on the very cameras that it reads.
 */
import {
  deliveredP3,
  glowSpectrum,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import type { TestSet } from './cameras.ts'
import type { Condition } from './conditions.ts'

export interface PredictionRow {
  readonly condition: string
  readonly temperatureK: number
  /** Least rms error, K, of a line from the reference's G/R to the reading's. */
  readonly leastRmsK: number
  /** The part of it that the reference's own uncertainty makes. */
  readonly ofReferenceK: number
}

/**
 * Noise-free pictures, one reference of stated uncertainty. The line that errs least over the cameras,
 * its slope drawn towards 0 by the reference's variance (linear least squares with a known error
 * of the regressor).
 *
 * @returns null for a condition that does not rest on exactly one known heat
 */
export function bestPrediction(
  set: TestSet,
  { name, balance, heats: [heat, ...others] }: Condition,
  temperatureK: number,
): PredictionRow | null {
  if (heat === undefined || others.length > 0) return null
  const seen = set.cameras.map(({ sensitivity }) => {
    const camera = simulateCamera(sensitivity, set.training, balance)
    const at = (kelvin: number) => {
      const [r, g] = deliveredP3(camera, glowSpectrum(kelvin))
      return g / r
    }
    const perKelvin = (kelvin: number) => (at(kelvin + 3) - at(kelvin - 3)) / 6
    return {
      reference: at(heat.temperatureK),
      reading: at(temperatureK),
      referencePerKelvin: perKelvin(heat.temperatureK),
      readingPerKelvin: perKelvin(temperatureK),
    }
  })
  const mean = (of: (one: (typeof seen)[number]) => number) =>
    seen.reduce((sum, one) => sum + of(one), 0) / seen.length
  const x = mean((one) => one.reference)
  const y = mean((one) => one.reading)
  const variance = mean((one) => (one.reference - x) ** 2)
  const ofReference = mean((one) => (heat.standardUncertaintyK * one.referencePerKelvin) ** 2)
  const slope = mean((one) => (one.reference - x) * (one.reading - y)) / (variance + ofReference)
  const camera = mean(
    (one) => ((one.reading - y - slope * (one.reference - x)) / one.readingPerKelvin) ** 2,
  )
  const reference = mean(
    (one) =>
      ((slope * heat.standardUncertaintyK * one.referencePerKelvin) / one.readingPerKelvin) ** 2,
  )
  return {
    condition: name,
    temperatureK,
    leastRmsK: Math.sqrt(camera + reference),
    ofReferenceK: Math.sqrt(reference),
  }
}
