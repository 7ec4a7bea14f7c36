import type { GlowInput } from '../../estimate/types.ts'
import type { Reading } from '../../log/schema/types.ts'
import type { RedLevel } from '../../physics/brightness.ts'

/** A camera reading of the log whose red level can be compared. */
export interface LevelReading {
  readonly reading: Reading
  readonly red: RedLevel
  /** Linear light, or an ordinary photo whose tone curve bends its levels. */
  readonly linear: boolean
  readonly widthPixels: number
  /** Levels are comparable only within one camera, one kind of channels, one white balance. */
  readonly capture: string
}

/**
 * The red level of a reading with the exposure it was taken at; null where there is none. Light that
 * a recovered curve gave (a sweep, a kept curve) has no fixed scale: its level belongs to no exposure.
 */
export function levelReading(reading: Reading): LevelReading | null {
  const input = reading.inputs as unknown as GlowInput | null
  const details = reading.details as unknown as {
    photo?: { facts?: { exposureSeconds?: number; iso?: number; fNumber?: number } }
  } | null
  const facts = details?.photo?.facts
  const level = input?.glow?.mean?.[0]
  if (reading.result.kind !== 'temperature' || !input || !level || !(level > 0)) return null
  if (input.linearity.kind === 'sweep') return null
  if (!facts?.exposureSeconds || !facts.iso || !facts.fNumber) return null
  const standardUncertainty = Math.sqrt(Math.max(input.glow.covariance?.[0]?.[0] ?? 0, 0))
  const { kind, colourTemperatureK } = input.balanceState
  return {
    reading,
    red: {
      level: { value: level, standardUncertainty },
      exposure: { exposureSeconds: facts.exposureSeconds, iso: facts.iso, fNumber: facts.fNumber },
    },
    linear: input.linearity.kind !== 'single',
    widthPixels: input.quality?.glowWidthPixels ?? 0,
    capture: [input.cameraId, input.channels, kind, colourTemperatureK ?? ''].join(' | '),
  }
}
