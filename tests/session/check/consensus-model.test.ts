import { afterEach, describe, expect, test } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { createConsensusModel } from '../../../src/session/check/consensus-model.ts'
import { closeTestLogs, draft, openTestLog, temperatureResult } from '../../log/opening.ts'

afterEach(closeTestLogs)

const at = (minutes: number) => ({
  iso: new Date(Date.UTC(2025, 2, 1, 9, minutes)).toISOString(),
  zone: '',
})
/** A temperature entered by hand: each is an instrument of its own. */
const add = (log: Log, kelvin: number, minutes: number, object = 'bar') =>
  log.add(draft({ object, takenAt: at(minutes), result: temperatureResult(kelvin) }))

async function opened(log: Log, readingId?: string) {
  const model = createConsensusModel(Promise.resolve(log), readingId)
  await expect.poll(() => model.objects.value).not.toBeNull()
  return model
}
const kelvins = (model: Awaited<ReturnType<typeof opened>>) =>
  model.rows.value.map(({ estimate }) => estimate.temperatureK)

describe('the comparison of several estimates', () => {
  test('begins with the object that is read most, and follows another', async () => {
    const log = await openTestLog()
    await add(log, 1200, 0)
    await add(log, 1210, 90)
    await add(log, 1000, 0, 'kiln')
    const model = await opened(log)
    expect(model.object.value).toBe('bar')
    await expect.poll(() => kelvins(model).length).toBeGreaterThan(0)
    model.object.value = 'kiln'
    await expect.poll(() => kelvins(model)).toEqual([1000])
    model.dispose()
  })

  test('of a reading is about its object and its hour', async () => {
    const log = await openTestLog()
    await add(log, 1200, 0)
    const asked = await add(log, 1210, 70)
    await add(log, 1300, 300)
    const model = await opened(log, asked.id)
    await expect.poll(() => model.asked.value?.id).toBe(asked.id)
    await expect.poll(() => kelvins(model).includes(1210)).toBe(true)
    const included = () =>
      model.rows.value.filter((row) => row.included).map(({ estimate }) => estimate.temperatureK)
    expect(included()).toEqual([1210])
    // More than an hour before is another heat; it can be taken in by hand, and out again.
    const earlier = model.rows.value.find(({ estimate }) => estimate.temperatureK === 1200)!
    expect(earlier.included).toBe(false)
    model.toggle(earlier.reading.id)
    expect(included()).toEqual([1210, 1200])
    expect(model.consensus.value).not.toBeNull()
    model.toggle(earlier.reading.id)
    expect(included()).toEqual([1210])
    model.dispose()
  })

  test('of nothing is nothing, and what the log gets later comes in', async () => {
    const log = await openTestLog()
    const model = await opened(log)
    expect(model.rows.value).toEqual([])
    expect(model.consensus.value).toBeNull()
    await add(log, 1200, 0)
    model.object.value = 'bar'
    await expect.poll(() => kelvins(model)).toEqual([1200])
    await add(log, 1250, 120)
    await expect.poll(() => kelvins(model)).toContain(1250)
    model.dispose()
  })

  test('unticking every row leaves no consensus', async () => {
    const log = await openTestLog()
    await add(log, 1200, 0)
    const model = await opened(log)
    await expect.poll(() => model.rows.value.length).toBe(1)
    expect(model.consensus.value).not.toBeNull()
    model.toggle(model.rows.value[0]!.reading.id)
    expect(model.consensus.value).toBeNull()
    // Another object begins anew.
    model.object.value = ''
    model.object.value = 'bar'
    await expect.poll(() => model.rows.value[0]?.included).toBe(true)
    model.dispose()
  })

  test('says what the log refused', async () => {
    const refused = new Error('refused')
    const model = createConsensusModel(Promise.reject(refused))
    await expect.poll(() => model.failure.value).toBe(refused)
    model.dispose()
  })
})
