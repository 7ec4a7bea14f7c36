import { beforeEach, expect, test, vi } from 'vitest'
import {
  discardDraft,
  entryDraft,
  hasEntryDraft,
  storeDraft,
} from '../../../src/session/log/entry-draft.ts'
import type { FieldDraft } from '../../../src/session/log/field-draft.ts'
import { tabStorage } from '../tab-storage.ts'

const TYPED: FieldDraft = {
  takenAt: '2026-05-04T10:00',
  object: 'kiln shelf',
  material: '',
  cover: 'none',
  tags: 'a, b',
  notes: 'second firing',
  series: '',
  volts: '12',
  amperes: '',
  watts: '',
  place: '',
  room: '',
  temperature: '1200',
  plusMinus: '40',
}
let texts: Map<string, string>
beforeEach(() => {
  texts = tabStorage()
})

test('what is being typed comes back after a reload, of each entry its own, until it is saved', () => {
  storeDraft('one', TYPED)
  storeDraft('by hand', { ...TYPED, object: 'lid' })
  expect(entryDraft('one')).toEqual(TYPED)
  expect(entryDraft('by hand')?.object).toBe('lid')
  expect(hasEntryDraft('other')).toBe(false)
  discardDraft('one')
  expect(hasEntryDraft('one')).toBe(false)
  expect(hasEntryDraft('by hand')).toBe(true)
})

test('what was kept by an older version, or is damaged, is not taken up', () => {
  for (const kept of ['', '{', '[]', '7', JSON.stringify({ ...TYPED, notes: 3 })]) {
    storeDraft('one', TYPED)
    for (const name of texts.keys()) texts.set(name, kept)
    expect(entryDraft('one'), kept).toBeNull()
  }
  const { place: _, ...older } = TYPED
  for (const name of texts.keys()) texts.set(name, JSON.stringify(older))
  expect(hasEntryDraft('one')).toBe(false)
})

test('storage that is refused costs only what a reload would lose', () => {
  const refuses = () => {
    throw new DOMException('refused', 'SecurityError')
  }
  vi.stubGlobal('sessionStorage', { getItem: refuses, setItem: refuses, removeItem: refuses })
  storeDraft('one', TYPED)
  expect(entryDraft('one')).toBeNull()
  discardDraft('one')
})
