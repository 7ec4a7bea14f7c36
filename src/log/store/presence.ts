/**
 * Notices that the browser has cleared the database: a mark outside of it says how many readings
 * there were. (A browser that drops a damaged or unused database opens an empty one without a word.
 * When it clears the mark too, nothing can be noticed: hence backups.)
 */
import * as v from 'valibot'
import type { Missing } from '../schema/types.ts'

const markSchema = v.object({
  readings: v.number(),
  at: v.string(),
  missing: v.nullable(v.object({ readings: v.number(), lastSeen: v.string() })),
})
type MarkContent = v.InferOutput<typeof markSchema>

/** Where the mark lies: localStorage, or anything alike in tests. */
export type MarkStorage = Pick<Storage, 'getItem' | 'setItem'>

export interface Presence {
  /** How many readings there are now. */
  note(readings: number): void
  missing(): Missing | null
  dismiss(): void
}

/** @param listed readings in the database just opened; @param fresh no reading was ever added to it */
export function keepPresence(
  storage: MarkStorage | null,
  name: string,
  now: () => Date,
  listed: number,
  fresh: boolean,
): Presence {
  const before = read(storage, name)
  let missing: Missing | null = before?.missing ?? null
  if (fresh && before !== undefined && before.readings > 0) {
    missing = { readings: before.readings, lastSeen: before.at }
  }
  const write = (readings: number) => {
    const content: MarkContent = { readings, at: now().toISOString(), missing }
    try {
      storage?.setItem(name, JSON.stringify(content))
    } catch {
      // A mark that cannot be written only means that a later loss goes unnoticed.
    }
  }
  if (before !== undefined || listed > 0) write(listed)
  return {
    note: write,
    missing: () => missing,
    dismiss() {
      missing = null
      write(read(storage, name)?.readings ?? listed)
    },
  }
}

function read(storage: MarkStorage | null, name: string): MarkContent | undefined {
  try {
    const text = storage?.getItem(name)
    if (text === null || text === undefined) return undefined
    const parsed = v.safeParse(markSchema, JSON.parse(text))
    return parsed.success ? parsed.output : undefined
  } catch {
    return undefined
  }
}
