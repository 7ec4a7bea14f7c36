import { afterEach, describe, expect, test, vi } from 'vitest'
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

  test('reads again only what concerns it, says that the log was closed, and lets its picture go', async () => {
    const log = await openTestLog()
    const { id } = await log.add(draft({ object: 'bar' }), PICTURE)
    let tell: (change: unknown) => void = () => undefined
    let asked = 0
    const get: typeof log.get = (of) => {
      asked++
      return log.get(of)
    }
    const subscribe = (listener: unknown) => {
      tell = listener as typeof tell
      return () => undefined
    }
    const model = createEntryModel(Promise.resolve({ ...log, get, subscribe }), id)
    await expect.poll(() => model.picture.value).not.toBeNull()
    const url = model.picture.value!
    tell({ kind: 'kit' })
    tell({ kind: 'readings', ids: ['another'] })
    expect([asked, model.failure.value]).toEqual([1, null])
    tell({ kind: 'readings', ids: ['another', id] })
    tell({ kind: 'everything' })
    expect(asked).toBe(3)
    // The picture of a reading never changes.
    await new Promise((resolve) => setTimeout(resolve, 20))
    expect(model.picture.value).toBe(url)
    tell({ kind: 'closed', code: 'newer version' })
    expect(model.failure.value).toMatchObject({ failure: { code: 'newer version' } })
    const freed = vi.spyOn(URL, 'revokeObjectURL')
    model.dispose()
    expect(freed).toHaveBeenCalledExactlyOnceWith(url)
  })
})
