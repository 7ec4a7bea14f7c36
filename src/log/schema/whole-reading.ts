import type { Moment } from './fields.ts'
import { READING_VERSION, type Reading, UNSAID } from './reading-schema.ts'
import type { NewReading } from './types.ts'

interface Given {
  readonly id: string
  /** ISO 8601. */
  readonly savedAt: string
  /** Where the draft states no time of its own. */
  readonly takenAt: Moment
}

/** A reading to be saved with all that it leaves out; not checked against the schema. */
export function wholeReading(draft: NewReading, { id, savedAt, takenAt }: Given): Reading {
  return {
    version: READING_VERSION,
    id,
    savedAt,
    takenAt,
    simulated: draft.method === 'practice',
    demo: false,
    ...UNSAID,
    chromaticity: null,
    swatch: null,
    parts: [],
    inputs: null,
    details: null,
    ...draft,
    picture: null,
    history: [],
    recomputations: [],
  }
}
