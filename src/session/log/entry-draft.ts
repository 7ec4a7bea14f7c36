import * as v from 'valibot'
import { storeTyped, typedBefore } from '../stored-text.ts'
import type { FieldDraft } from './field-draft.ts'

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
  storeTyped(key, JSON.stringify(draft))
}

export function entryDraft(key: string): FieldDraft | null {
  try {
    const parsed = v.safeParse(typedShape, JSON.parse(typedBefore(key)))
    return parsed.success ? parsed.output : null
  } catch {
    return null
  }
}

export const hasEntryDraft = (key: string): boolean => entryDraft(key) !== null

export const discardDraft = (key: string): void => storeTyped(key, '')
