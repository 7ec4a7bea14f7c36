import { signal } from '@preact/signals'
import type { GlowInput } from '../estimate/types.ts'

/** A reading that goes along to the other screens, so that none of them starts from nothing. */
export interface CarriedReading {
  readonly temperatureK: number
  readonly expandedUncertaintyK: number
  readonly interval95K: readonly [number, number]
  readonly object: string
  /** The way back to it. */
  readonly href: string
  /** What an unsaved reading was computed from; null where it lies in the log. */
  readonly input: GlowInput | null
}

/** Set by the open reading and by an entry of the log that goes along. */
export const carriedReading = signal<CarriedReading | null>(null)
