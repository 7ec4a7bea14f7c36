import { expect, test } from 'vitest'
import { LogError } from '../../../src/log/schema/errors.ts'
import { canBeRescued, rescuedLog } from '../../../src/session/log/rescued-log.ts'

test('the second copy is offered where the database failed, not where the app was at fault', () => {
  const rescued = (code: string) => canBeRescued(new LogError({ code } as never))
  for (const code of ['storage full', 'storage unanswered', 'storage failed'])
    expect(rescued(code), code).toBe(true)
  for (const code of ['storage refused', 'closed', 'version newer', 'not found'])
    expect(rescued(code), code).toBe(false)
  expect(canBeRescued(new Error('storage failed'))).toBe(false)
  expect(canBeRescued(null)).toBe(false)
})

test('an export from it counts as no backup', async () => {
  const log = rescuedLog(() => new Date('2026-05-04T10:00:00Z'))
  expect(await log.markBackup()).toEqual({ change: 0, readings: 0, at: '2026-05-04T10:00:00.000Z' })
})
