import { afterEach, expect, test } from 'vitest'
import { bytesOf, closeTestLogs, draft, jpegBlob, openTestLog, tickingClock } from './opening.ts'

afterEach(closeTestLogs)

const picture = () => ({ blob: jpegBlob(), width: 8, height: 8 })

async function filesOf() {
  const log = await openTestLog()
  const { id } = await log.add(draft(), picture())
  const file = async (format: 'json' | 'zip') => new Blob([await bytesOf(log.export(format))])
  return { id, json: await file('json'), zip: await file('zip') }
}

async function importInto(log: Awaited<ReturnType<typeof openTestLog>>, file: Blob) {
  return (await log.readFile(file)).merge({ conflicts: 'mine' })
}

test('a reading whose picture stayed behind is no damaged one', async () => {
  const { id, json } = await filesOf()
  const log = await openTestLog()
  expect(await importInto(log, json)).toMatchObject({ added: 1, pictures: 0 })
  expect(await log.check()).toEqual([])
  expect((await log.find()).at(0).hasPicture).toBe(false)
  expect(await log.picture(id)).toBeUndefined()
})

test('its picture comes later with a file that holds it', async () => {
  const { id, json, zip } = await filesOf()
  const log = await openTestLog()
  await importInto(log, json)
  expect(await importInto(log, zip)).toMatchObject({ added: 0, pictures: 1 })
  expect(await log.check()).toEqual([])
  expect((await log.find()).at(0).hasPicture).toBe(true)
  expect((await log.picture(id))?.size).toBeGreaterThan(0)
})

test('a file without pictures takes none from the log', async () => {
  const { json, zip } = await filesOf()
  const log = await openTestLog()
  await importInto(log, zip)
  expect(await importInto(log, json)).toMatchObject({ added: 0, changed: 0, kept: 1 })
  expect(await log.check()).toEqual([])
  expect((await log.find()).at(0).hasPicture).toBe(true)
})

test('a clock that stands before the newest reading is noticed, one a day off is not', async () => {
  const name = 'a log with a clock'
  const log = await openTestLog({ name, now: tickingClock('2025-03-01T10:00:00Z') })
  await log.add(draft())
  const at = async (now: string) =>
    (await (await openTestLog({ name, now: tickingClock(now) })).status()).clockBehind
  expect(await at('2000-01-01T00:00:00Z')).toMatch(/^2025-03-01T10:00/)
  expect(await at('2025-02-28T09:00:00Z')).toMatch(/^2025-03-01T10:00/)
  expect(await at('2025-02-28T11:00:00Z')).toBeNull()
  expect(await at('2025-03-02T10:00:00Z')).toBeNull()
})
