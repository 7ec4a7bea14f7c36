import { expect, test } from 'vitest'
import { endedAtMs } from '../../../src/log/recordings/ended-at.ts'

const HEAD = {
  savedAt: '2025-03-01T10:00:00.000Z',
  source: 'live',
  startedAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: '' },
  durationSeconds: 90.5,
}
const ended = (head: object | string, row: object = {}) =>
  endedAtMs({
    id: 'a',
    check: 0,
    json: typeof head === 'string' ? head : JSON.stringify(head),
    ...row,
  })

test('a live recording was whole at its end, a copy of it when it was saved after that', () => {
  const began = Date.parse(HEAD.savedAt)
  expect(ended(HEAD)).toBe(began + 90_500)
  expect(ended({ ...HEAD, savedAt: '2025-03-02T10:00:00Z' })).toBe(
    Date.parse('2025-03-02T10:00:00Z'),
  )
  // One of a film or a table is of another day than its readings.
  for (const source of ['video', 'table']) expect(ended({ ...HEAD, source })).toBe(began)
})

test('one under way, deleted or damaged is in no list that a backup could lack', () => {
  expect(ended(HEAD, { running: true })).toBeNaN()
  expect(ended(HEAD, { removedAtMs: 0 })).toBeNaN()
  for (const damaged of ['{', 'null', '{"source":"live"}']) expect(ended(damaged)).toBeNaN()
})
