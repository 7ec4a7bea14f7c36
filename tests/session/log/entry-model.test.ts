import { afterEach, describe, expect, test } from 'vitest'
import { createEntryModel } from '../../../src/session/log/entry-model.ts'
import {
  closeTestLogs,
  draft,
  jpegBlob,
  openTestLog,
  temperatureResult,
} from '../../log/opening.ts'

afterEach(closeTestLogs)

const PICTURE = { blob: jpegBlob(), width: 3, height: 2 }
const shown = (model: ReturnType<typeof createEntryModel>) => {
  const found = model.stored.value
  return found?.state === 'sound' ? found.reading : found
}

describe('an entry of the log', () => {
  test('is shown with its picture, and follows what others do to it', async () => {
    const log = await openTestLog()
    const { id } = await log.add(draft({ object: 'bar' }), PICTURE)
    const other = await log.add(draft({ object: 'lid' }))
    const model = createEntryModel(Promise.resolve(log), id)
    expect(model.stored.value).toBeNull()
    await expect.poll(() => model.picture.value).toMatch(/^blob:/)
    expect(shown(model)).toMatchObject({ object: 'bar' })
    await log.edit(id, { notes: 'from another tab' })
    await expect.poll(() => shown(model)).toMatchObject({ notes: 'from another tab' })
    const before = model.stored.value
    await log.edit(other.id, { notes: 'not mine' })
    expect(model.stored.value).toBe(before)
    await log.remove([id])
    await expect.poll(() => model.stored.value).toBeUndefined()
    model.dispose()
  })

  test('is edited and computed again; what the log refuses is not shown as done', async () => {
    const log = await openTestLog()
    const { id } = await log.add(draft({ object: 'bar' }))
    const model = createEntryModel(Promise.resolve(log), id)
    await model.edit({ object: 'hook' })
    expect(shown(model)).toMatchObject({ object: 'hook' })
    await model.keepRecomputed({
      result: temperatureResult(1180),
      reason: 'newer method',
      inputs: null,
      details: null,
    })
    expect(shown(model)).toMatchObject({ recomputations: [{ reason: 'newer method' }] })
    await log.remove([id])
    await expect(model.edit({ object: 'gone' })).rejects.toMatchObject({ code: 'not found' })
    model.dispose()
  })

  test('says what the log refused; one that is not there is none', async () => {
    const refused = new Error('refused')
    const failed = createEntryModel(Promise.reject(refused), 'a')
    await expect.poll(() => failed.failure.value).toBe(refused)
    failed.dispose()
    const log = await openTestLog()
    const none = createEntryModel(Promise.resolve(log), 'nobody')
    await expect.poll(() => none.stored.value).toBeUndefined()
    expect(none.picture.value).toBeNull()
    none.dispose()
  })
})
