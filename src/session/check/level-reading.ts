import type { LevelPhoto } from '../../estimate/level-comparison.ts'
import { curveMoments } from '../../estimate/tone-curve-prior.ts'
import { currentInputs, currentResult } from '../../log/schema/reading-schema.ts'
import type { Reading } from '../../log/schema/types.ts'
import type { Estimate } from '../../physics/materials.ts'
import { storedExposure } from '../log/stored-exposure.ts'
import { storedGlow } from '../log/stored-glow.ts'

/** A camera reading of the log whose red level can be compared. */
export interface LevelReading extends LevelPhoto {
  readonly reading: Reading
  /** The result that counts now. */
  readonly temperature: Estimate
  /** Levels are comparable only within one camera, kind of channels, white balance and curve. */
  readonly capture: string
}

/**
 * The red level of a reading with the exposure it was taken at; null where there is none, or where
 * what is stored is not as it should be. Light that a recovered curve gave (a sweep, a kept curve)
 * has a scale of its own: its level is comparable with others by the same curve only.
 */
export function levelReading(reading: Reading): LevelReading | null {
  const input = storedGlow(currentInputs(reading))
  const exposure = storedExposure(reading.details)
  const result = currentResult(reading)
  if (input === null || exposure === null || result.kind !== 'temperature') return null
  const level = input.glow.mean[0]
  if (!(level > 0)) return null
  const { linearity } = input
  const curve = linearity.kind === 'sweep' ? linearity : null
  const noise = Math.sqrt(Math.max(input.glow.covariance[0][0], 0))
  const ofCurve = curve ? Math.sqrt(curveMoments(curve, 'green').variance) : 0
  const standardUncertainty = Math.hypot(noise, level * ofCurve)
  const { kind, colourTemperatureK } = input.balanceState
  return {
    reading,
    temperature: {
      value: result.temperatureK,
      standardUncertainty: result.standardUncertaintyK,
    },
    red: { level: { value: level, standardUncertainty }, exposure },
    linear: linearity.kind !== 'single',
    widthPixels: input.quality.glowWidthPixels,
    capture: [
      input.cameraId,
      input.channels,
      kind,
      colourTemperatureK ?? '',
      curve?.curveId ?? '',
    ].join(' | '),
  }
}
