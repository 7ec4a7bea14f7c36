import { expect, test } from 'vitest'
import { backupDue, nearlyFull } from '../../../src/log/store/backup.ts'

const DAY = 24 * 3600 * 1000
const NOW = Date.parse('2026-05-04T10:00:00Z')

test('a backup is due after twenty changes, or when one has waited a week', () => {
  expect([backupDue(19, NOW, NOW), backupDue(20, NOW, NOW)]).toEqual([false, true])
  expect(backupDue(1, NOW - 7 * DAY, NOW)).toBe(false)
  expect(backupDue(1, NOW - 7 * DAY - 1, NOW)).toBe(true)
  // Nothing has changed: nothing waits.
  expect(backupDue(0, NOW - 700 * DAY, NOW)).toBe(false)
})

test('storage is nearly full with under 50 MB or a tenth of the share left; unknown it is not', () => {
  expect([nearlyFull(149e6, 200e6), nearlyFull(151e6, 200e6)]).toEqual([false, true])
  expect([nearlyFull(8.9e9, 1e10), nearlyFull(9.1e9, 1e10)]).toEqual([false, true])
  expect([nearlyFull(null, 1e9), nearlyFull(1e9, null)]).toEqual([false, false])
})

test('a tenth of the share is a tenth', () => {
  expect([nearlyFull(8.98e9, 1e10), nearlyFull(9.02e9, 1e10)]).toEqual([false, true])
})
