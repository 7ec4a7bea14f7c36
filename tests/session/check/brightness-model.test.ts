import { afterEach, describe, expect, test } from 'vitest'
import type { Json, Log, NewReading, Reading } from '../../../src/log/schema/types.ts'
import { carriedReading } from '../../../src/session/carried-reading.ts'
import { createBrightnessModel } from '../../../src/session/check/brightness-model.ts'
import { reading, seen } from '../../estimate/inputs.ts'
import { closeTestLogs, draft, openTestLog, temperatureResult } from '../../log/opening.ts'

afterEach(() => {
  carriedReading.value = null
  closeTestLogs()
})

/** A photo of a black body: red light follows Planck, by the camera's own record of its exposure. */
const photo = (kelvin: number, cameraId = 'made-up phone'): NewReading =>
  draft({
    method: 'photo',
    material: 'cavity',
    result: temperatureResult(kelvin),
    inputs: reading(seen(kelvin), { cameraId }) as unknown as Json,
    details: { photo: { facts: { exposureSeconds: 0.02, iso: 100, fNumber: 1.8 } } },
  })

async function opened(log: Log, readingId?: string) {
  const model = createBrightnessModel(Promise.resolve(log), readingId)
  await expect.poll(() => model.readings.value).not.toBeNull()
  return model
}

describe('the comparison by brightness', () => {
  test('begins with the newest photo and another by the same settings of its camera', async () => {
    const log = await openTestLog()
    const first = await log.add(photo(1200))
    await log.add(photo(1250, 'another phone'))
    const newest = await log.add(photo(1300))
    const model = await opened(log)
    expect(model.glowId.value).toBe(newest.id)
    expect(model.referenceId.value).toBe(first.id)
    expect(model.answer.value).not.toBeNull()
    model.dispose()
  })

  test('has no answer for two cameras, nor for one photo and itself', async () => {
    const log = await openTestLog()
    const one = await log.add(photo(1200))
    const two = await log.add(photo(1250, 'another phone'))
    const model = await opened(log)
    expect([model.glowId.value, model.referenceId.value]).toEqual([two.id, one.id])
    expect(model.answer.value).toBeNull()
    model.referenceId.value = two.id
    expect(model.answer.value).toBeNull()
    model.dispose()
  })

  test('is of the reading that it was asked about, also before that is saved', async () => {
    const log = await openTestLog()
    const asked = await log.add(photo(1200))
    await log.add(photo(1300))
    const model = await opened(log, asked.id)
    expect(model.glowId.value).toBe(asked.id)
    model.dispose()
    const open = { ...photo(1400), id: 'open', recomputations: [], takenAt: { iso: '', zone: '' } }
    carriedReading.value = { record: () => open as unknown as Reading } as never
    const ofOpen = await opened(log, 'open')
    expect(ofOpen.glowId.value).toBe('open')
    expect(ofOpen.readings.value).toHaveLength(3)
    ofOpen.dispose()
  })

  test('asked about a reading without brightness, begins with the newest that has one', async () => {
    const log = await openTestLog()
    const newest = await log.add(photo(1300))
    const asked = await log.add(draft({ method: 'by hand' }))
    const model = await opened(log, asked.id)
    expect(model.glowId.value).toBe(newest.id)
    model.dispose()
  })

  test('leaves out what has no brightness: entries by hand, photos without their exposure', async () => {
    const log = await openTestLog()
    await log.add(draft({ method: 'by hand' } as Partial<NewReading>))
    await log.add({ ...photo(1200), details: null })
    const model = await opened(log)
    expect(model.readings.value).toEqual([])
    expect(model.answer.value).toBeNull()
    model.dispose()
  })

  test('says what the log refused', async () => {
    const refused = new Error('refused')
    const model = createBrightnessModel(Promise.reject(refused))
    await expect.poll(() => model.failure.value).toBe(refused)
    model.dispose()
  })
})
