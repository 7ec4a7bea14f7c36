import * as v from 'valibot'
import type { FieldDraft } from './field-draft.ts'

/** What is being typed, kept over a reload of this tab: an update, a phone that ran out of memory. */
const nameOf = (key: string) => `glowbook.typing.${key}`

const text = v.string()
export const typedShape = v.object({
  takenAt: text,
  object: text,
  material: text,
  cover: text,
  tags: text,
  notes: text,
  series: text,
  volts: text,
  amperes: text,
  watts: text,
  place: text,
  room: text,
  temperature: text,
  plusMinus: text,
} satisfies Record<keyof FieldDraft, typeof text>)

/** @param key id of the reading, or 'by hand' for a new one */
export function storeDraft(key: string, draft: FieldDraft): void {
  try {
    sessionStorage.setItem(nameOf(key), JSON.stringify(draft))
  } catch {
    // Refused or full: only a reload would lose it.
  }
}

export function entryDraft(key: string): FieldDraft | null {
  try {
    const parsed = v.safeParse(typedShape, JSON.parse(sessionStorage.getItem(nameOf(key)) ?? ''))
    return parsed.success ? parsed.output : null
  } catch {
    return null
  }
}

export const hasEntryDraft = (key: string): boolean => entryDraft(key) !== null

export function discardDraft(key: string): void {
  try {
    sessionStorage.removeItem(nameOf(key))
  } catch {
    // As above.
  }
}
