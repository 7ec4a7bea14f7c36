import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { createStatusModel } from '../../../src/session/log/status-model.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

function asked() {
  const listeners = new Set<() => void>()
  const log = {
    status: vi.fn(async () => ({ asked: log.status.mock.calls.length })),
    subscribe(listener: () => void) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    requestPersistence: async () => true,
    dismissMissing: vi.fn(),
  }
  const tell = () => {
    for (const listener of listeners) listener()
  }
  return { log, opened: Promise.resolve(log as unknown as Log), listeners, tell }
}
const passed = (ms: number) => vi.advanceTimersByTimeAsync(ms)

test('the status is asked once after what is looked at, and once after many changes', async () => {
  const { log, opened, tell } = asked()
  let looked = () => {}
  const after = new Promise<void>((resolve) => {
    looked = resolve
  })
  const model = createStatusModel(opened, after)
  await passed(1000)
  expect(log.status).not.toHaveBeenCalled()
  looked()
  await passed(0)
  expect(model.status.value).toEqual({ asked: 1 })
  for (let change = 0; change < 5; change++) {
    tell()
    await passed(100)
  }
  expect(log.status).toHaveBeenCalledTimes(1)
  await passed(300)
  expect(model.status.value).toEqual({ asked: 2 })
})

test('what the person does is seen at once', async () => {
  const { log, opened } = asked()
  const model = createStatusModel(opened, Promise.resolve())
  await passed(0)
  expect(await model.askToKeep()).toBe(true)
  expect(model.status.value).toEqual({ asked: 2 })
  await model.dismissMissing()
  expect(log.dismissMissing).toHaveBeenCalledOnce()
  expect(model.status.value).toEqual({ asked: 3 })
})

test('put away it asks and hears no more', async () => {
  const { log, opened, listeners, tell } = asked()
  const model = createStatusModel(opened, Promise.resolve())
  await passed(0)
  tell()
  model.dispose()
  await passed(1000)
  expect([log.status.mock.calls.length, listeners.size]).toEqual([1, 0])
  const early = asked()
  createStatusModel(early.opened, Promise.resolve()).dispose()
  await passed(1000)
  expect([early.log.status.mock.calls.length, early.listeners.size]).toEqual([0, 0])
})

test('an answer that comes after it was put away is not taken', async () => {
  const { log, opened } = asked()
  let answer = (_: { asked: number }) => {}
  log.status.mockImplementation(
    () =>
      new Promise((resolve) => {
        answer = resolve
      }),
  )
  const model = createStatusModel(opened, Promise.resolve())
  await passed(0)
  expect(log.status).toHaveBeenCalledOnce()
  model.dispose()
  answer({ asked: 1 })
  await passed(0)
  expect(model.status.value).toBeNull()
})

test('without a log there is no status, and no error', async () => {
  const model = createStatusModel(Promise.reject(new Error('no log')), Promise.resolve())
  await passed(0)
  expect(model.status.value).toBeNull()
})
