import { signal } from '@preact/signals'

/** A reading that goes along to the other screens, so that none of them starts from nothing. */
export interface CarriedReading {
  readonly temperatureK: number
  readonly expandedUncertaintyK: number
  readonly interval95K: readonly [number, number]
  readonly object: string
  /** The way back to it. */
  readonly href: string
}

/** Set by the open reading and by an entry of the log that goes along. */
export const carriedReading = signal<CarriedReading | null>(null)
