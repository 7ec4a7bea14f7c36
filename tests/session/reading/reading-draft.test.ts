import { expect, test } from 'vitest'
import { FIRST_CHOICES } from '../../../src/session/reading/glow-input.ts'
import { readingNotesFrom } from '../../../src/session/reading/reading-draft.ts'

const NOTES = {
  region: null,
  choices: FIRST_CHOICES,
  cardLight: { kind: 'daylight', illuminant: 'D65' },
  cardRegionHere: null,
}

test('notes of a reading are taken up as they were', () => {
  expect(readingNotesFrom(NOTES)).toBe(NOTES)
})

test.each([
  undefined,
  null,
  'notes',
  7,
  {},
  { choices: null },
  { choices: FIRST_CHOICES },
  { ...NOTES, cardLight: null },
  { ...NOTES, cardLight: {} },
  { ...NOTES, choices: { ...FIRST_CHOICES, materialId: null } },
  { ...NOTES, choices: { ...FIRST_CHOICES, balanceState: null } },
  { ...NOTES, choices: { ...FIRST_CHOICES, balanceState: 'daylight' } },
])('%j is none of them, and nothing falls over', (found) => {
  expect(readingNotesFrom(found)).toBeNull()
})
