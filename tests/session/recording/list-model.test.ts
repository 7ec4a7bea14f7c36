import { expect, test } from 'vitest'
import type { RecordingList } from '../../../src/log/recordings/types.ts'
import type { Log, LogChange } from '../../../src/log/schema/types.ts'
import { createRecordingListModel } from '../../../src/session/recording/list-model.ts'

/** A log whose recordings are told in the order in which the answers are given. */
function listing() {
  const waiting: ((list: RecordingList) => void)[] = []
  const listeners = new Set<(change: LogChange) => void>()
  const log = {
    recordings: { list: () => new Promise((resolve) => waiting.push(resolve)) },
    subscribe(listener: (change: LogChange) => void) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  } as unknown as Log
  const tell = (kind: string) => {
    for (const listener of listeners) listener({ kind } as unknown as LogChange)
  }
  const answer = async (at: number, name: string) => {
    waiting[at]!({ name } as unknown as RecordingList)
    await settled()
  }
  return { log, waiting, listeners, tell, answer }
}
const settled = () => new Promise((resolve) => setTimeout(resolve))

test('recordings are read, and again when they or everything changes, not when the kit does', async () => {
  const { log, waiting, tell, answer } = listing()
  const model = createRecordingListModel(Promise.resolve(log))
  expect(model.list.value).toBeNull()
  await settled()
  await answer(0, 'first')
  expect(model.list.value).toEqual({ name: 'first' })
  tell('kit')
  expect(waiting).toHaveLength(1)
  tell('recordings')
  tell('everything')
  expect(waiting).toHaveLength(3)
})

test('an answer that comes late does not replace a newer one', async () => {
  const { log, tell, answer } = listing()
  const model = createRecordingListModel(Promise.resolve(log))
  await settled()
  tell('recordings')
  await answer(1, 'newer')
  await answer(0, 'older')
  expect(model.list.value).toEqual({ name: 'newer' })
})

test('put away it listens no more and takes no answer', async () => {
  const { log, listeners, answer } = listing()
  const model = createRecordingListModel(Promise.resolve(log))
  await settled()
  expect(listeners.size).toBe(1)
  model.dispose()
  expect(listeners.size).toBe(0)
  await answer(0, 'late')
  expect(model.list.value).toBeNull()
  // Put away before the log was open.
  const before = listing()
  createRecordingListModel(Promise.resolve(before.log)).dispose()
  await settled()
  expect([before.listeners.size, before.waiting.length]).toEqual([0, 0])
})

test('a log that cannot be opened is told', async () => {
  const failure = new Error('no log')
  const model = createRecordingListModel(Promise.reject(failure))
  await settled()
  expect(model.failure.value).toBe(failure)
})

test('a search keeps those with every word in object, surface, notes or marks, whatever case and accents', async () => {
  const { log, waiting } = listing()
  const model = createRecordingListModel(Promise.resolve(log))
  await settled()
  const head = (object: string, notes: string, mark: string) => ({
    object,
    material: 'oxidised steel',
    notes,
    marks: [{ seconds: 1, name: mark, note: '' }],
  })
  const items = [
    head('Örtl’s ring', 'slow', 'Power off'),
    head('Kiln shelf', '', 'Draught'),
  ] as unknown as RecordingList['items']
  waiting[0]!({ items, damaged: [], running: 0 })
  await settled()
  const found = (text: string) => {
    model.text.value = text
    return model.found.value.map(({ object }) => object)
  }
  expect(found('')).toEqual(['Örtl’s ring', 'Kiln shelf'])
  expect(found('ortl SLOW')).toEqual(['Örtl’s ring'])
  expect(found('steel')).toHaveLength(2)
  expect(found(' power  ring ')).toEqual(['Örtl’s ring'])
  expect(found('draught ring')).toEqual([])
})
