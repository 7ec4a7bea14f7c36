import type { CardLightId } from '../../light/card-light.ts'
import type { Region } from '../../light/image.ts'
import type { Choices } from './glow-input.ts'

/** What was said about the open photo. */
export interface ReadingNotes {
  readonly region: Region | null
  readonly choices: Choices
  readonly cardLight: CardLightId
  readonly cardRegionHere: Region | null
  /** The stored card in use. */
  readonly greyId?: string | null
  readonly object?: string
  /** Name that the person gave to a camera whose files do not name it. */
  readonly named?: string | null
}

/**
 * Reads notes back. They were written by this app on this device; a shape that does not fit (an
 * older version's) is simply not taken up.
 */
export function readingNotesFrom(value: unknown): ReadingNotes | null {
  const notes = value as Partial<ReadingNotes> | null
  const sound =
    typeof notes === 'object' &&
    typeof notes?.choices?.materialId === 'string' &&
    typeof notes.choices.balanceState?.kind === 'string' &&
    typeof notes.cardLight?.kind === 'string'
  return sound ? (notes as ReadingNotes) : null
}
