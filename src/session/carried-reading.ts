import { signal } from '@preact/signals'
import type { Reading } from '../log/schema/types.ts'

/** A reading that goes along to the other screens, so that none of them starts from nothing. */
export interface CarriedReading {
  readonly temperatureK: number
  readonly expandedUncertaintyK: number
  readonly interval95K: readonly [number, number]
  readonly object: string
  /** The way back to it. */
  readonly href: string
  /** The open reading as the log would keep it, its id {@link OPEN}; null where it lies in the log. */
  readonly record: (() => Reading | null) | null
}

/** Stands for the id of the open reading, which has none before it is saved. */
export const OPEN = 'open'

/** Set by the open reading and by an entry of the log that goes along. */
export const carriedReading = signal<CarriedReading | null>(null)
