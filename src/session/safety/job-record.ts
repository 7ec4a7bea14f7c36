import type { NewReading } from '../../log/schema/types.ts'

/** Stored with what is written of a job or a fire watch. */
const SAFETY_METHOD_VERSION = 'hot work 1'

/**
 * A job or a fire watch as the log keeps it: no figure, but date, what was ticked and why.
 *
 * @param what of it is written
 * @param notes in words, as the log shows them
 */
export function jobRecord(
  what: 'job' | 'fire watch',
  object: string,
  notes: string,
  inputs: NewReading['inputs'],
): NewReading {
  return {
    method: 'hot work',
    result: { kind: 'none', reason: what, methodVersion: SAFETY_METHOD_VERSION },
    object,
    notes,
    tags: ['hot work'],
    ...(inputs === undefined ? {} : { inputs }),
  }
}
