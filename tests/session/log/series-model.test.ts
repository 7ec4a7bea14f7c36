import { afterEach, describe, expect, test } from 'vitest'
import type { Json, Log, NewReading } from '../../../src/log/schema/types.ts'
import { createSeriesModel } from '../../../src/session/log/series-model.ts'
import { resultOf } from '../../../src/session/reading/reading-record.ts'
import { reading, salt, seen, temperature } from '../../estimate/inputs.ts'
import { closeTestLogs, draft, openTestLog } from '../../log/opening.ts'

afterEach(closeTestLogs)

function photo(kelvin: number, change: Partial<NewReading> = {}, cameraId?: string): NewReading {
  const input = reading(seen(kelvin), { references: [salt()], ...(cameraId ? { cameraId } : {}) })
  return draft({
    object: 'bar',
    result: resultOf(temperature(input), input),
    inputs: input as unknown as Json,
    ...change,
  })
}
async function read(log: Log, object = 'bar') {
  const model = createSeriesModel(Promise.resolve(log), object)
  await expect.poll(() => model.summaries.value).not.toBeNull()
  return model
}

describe('the readings of one object', () => {
  test('come newest first, with what moves them all and what is each one’s own', async () => {
    const log = await openTestLog()
    const one = await log.add(photo(1150))
    const two = await log.add(photo(1200))
    await log.add(photo(1300, { object: 'lid' }))
    const model = await read(log)
    expect(model.summaries.value?.map(({ id }) => id)).toEqual([two.id, one.id])
    await expect.poll(() => model.spread.value).not.toBeNull()
    const { commonK, ownK } = model.spread.value!
    expect([...ownK.keys()].sort()).toEqual([one.id, two.id].sort())
    // One camera and one piece: most of it is common to both.
    for (const own of ownK.values()) expect(own).toBeLessThan(commonK)
    model.dispose()
  })

  test('have nothing in common where but one was measured by that camera', async () => {
    const log = await openTestLog()
    const one = await log.add(photo(1150))
    await log.add(photo(1200, { method: 'practice', simulated: true }))
    await log.add(draft({ object: 'bar', inputs: null }))
    const model = await read(log)
    expect(model.summaries.value).toHaveLength(3)
    await new Promise((resolve) => setTimeout(resolve, 20))
    expect(model.spread.value).toBeNull()
    // One more, and they have.
    await log.add(photo(1210))
    await expect.poll(() => model.spread.value?.ownK.has(one.id)).toBe(true)
    model.dispose()
    const other = await log.add(photo(1220))
    expect(model.summaries.value?.map(({ id }) => id)).not.toContain(other.id)
  })

  test('of no object are not looked for; a log that fails is told', async () => {
    const unnamed = createSeriesModel(
      Promise.reject(new Error('not asked')).catch(() => null!),
      '',
    )
    expect(unnamed.summaries.value).toBeNull()
    unnamed.dispose()
    const refused = new Error('refused')
    const model = createSeriesModel(Promise.reject(refused), 'bar')
    await expect.poll(() => model.failure.value).toBe(refused)
    model.dispose()
  })

  test('are looked for again when they change or all does, and say when the log is closed', async () => {
    const log = await openTestLog()
    let tell: (change: unknown) => void = () => undefined
    let asked = 0
    const model = createSeriesModel(
      Promise.resolve({
        ...log,
        find: (filter) => {
          asked++
          return log.find(filter)
        },
        subscribe: (listener) => {
          tell = listener as typeof tell
          return () => undefined
        },
      } as Log),
      'bar',
    )
    await expect.poll(() => model.summaries.value).toEqual([])
    tell({ kind: 'kit' })
    expect([asked, model.failure.value]).toEqual([1, null])
    tell({ kind: 'readings', ids: [] })
    tell({ kind: 'everything' })
    expect(asked).toBe(3)
    tell({ kind: 'closed', code: 'newer version' })
    expect(model.failure.value).toMatchObject({ failure: { code: 'newer version' } })
    model.dispose()
  })
})
