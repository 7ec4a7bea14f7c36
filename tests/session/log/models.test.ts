import { afterEach, describe, expect, test, vi } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { createEntryModel } from '../../../src/session/log/entry-model.ts'
import { createExportModel } from '../../../src/session/log/export-model.ts'
import { createImportModel } from '../../../src/session/log/import-model.ts'
import { createListModel } from '../../../src/session/log/list-model.ts'
import { createSelection } from '../../../src/session/log/selection.ts'
import { createStatusModel } from '../../../src/session/log/status-model.ts'
import { noticeOfLogFailure } from '../../../src/ui/words/log-errors.ts'
import { madeUpRecording } from '../../browser/log-page/made-up-recordings.ts'
import {
  closeTestLogs,
  contentOf,
  draft,
  freshName,
  openTestLog,
  temperatureResult,
  textOf,
} from '../../log/opening.ts'

const closing: (() => void)[] = []
const closed = <T extends { dispose(): void }>(model: T): T => {
  closing.push(model.dispose)
  return model
}
afterEach(() => {
  for (const close of closing.splice(0)) close()
  closeTestLogs()
  vi.unstubAllGlobals()
})

async function logWith(...objects: string[]): Promise<Log> {
  const log = await openTestLog()
  for (const object of objects) await log.add(draft({ object }))
  return log
}

describe('the list', () => {
  test('shows the newest and then all that fit', async () => {
    const log = await logWith('anvil', 'bar', 'coil')
    const model = closed(createListModel(Promise.resolve(log)))
    await expect.poll(() => model.view.value?.count).toBe(3)
    expect(model.newest.value?.map(({ object }) => object)).toEqual(['coil', 'bar', 'anvil'])
    expect(model.total.value).toBe(3)
    model.find({ text: 'ba' })
    await expect.poll(() => model.view.value?.count).toBe(1)
    expect(await model.count({ object: 'coil' })).toBe(1)
  })

  test('without readings counts the recordings, also one that comes later', async () => {
    const log = await openTestLog()
    const model = closed(createListModel(Promise.resolve(log)))
    await expect.poll(() => model.recordings.value).toBe(0)
    const { head, columns } = madeUpRecording(1, 2)
    await log.recordings.put(head, columns, null)
    await expect.poll(() => model.recordings.value).toBe(1)
  })

  test('answers the latest question, whichever is found first', async () => {
    const log = await logWith('anvil', 'bar')
    const waiting: (() => void)[] = []
    const slow: Log = {
      ...log,
      find: async (filter) => {
        const found = await log.find(filter)
        if (filter?.text) await new Promise<void>((resolve) => waiting.push(resolve))
        return found
      },
    }
    const model = closed(createListModel(Promise.resolve(slow)))
    await expect.poll(() => model.view.value?.count).toBe(2)
    model.find({ text: 'nothing' })
    model.find({ text: 'bar' })
    await expect.poll(() => waiting).toHaveLength(2)
    waiting[1]?.()
    await expect.poll(() => model.view.value?.count).toBe(1)
    waiting[0]?.()
    await new Promise((resolve) => setTimeout(resolve, 5))
    expect(model.view.value?.count).toBe(1)
  })

  test('follows what another tab saves, and says when this one is out of date', async () => {
    const name = freshName()
    const here = await openTestLog({ name })
    const there = await openTestLog({ name })
    const model = closed(createListModel(Promise.resolve(here)))
    await expect.poll(() => model.view.value?.count).toBe(0)
    await there.add(draft())
    await expect.poll(() => model.view.value?.count).toBe(1)
    const later = indexedDB.open(name, 99)
    const upgraded = new Promise((resolve) => {
      later.onsuccess = resolve
    })
    await expect
      .poll(() => noticeOfLogFailure(model.failure.value)?.title)
      .toContain('newer version')
    await upgraded
    later.result.close()
  })

  test('says why there is no log', async () => {
    const model = closed(createListModel(openTestLog({ name: freshName() }).then(refused)))
    await expect.poll(() => noticeOfLogFailure(model.failure.value)?.weight).toBe('stop')
    expect(model.view.value).toBeNull()
  })
})

const refused = (): never => {
  throw new Error('refused')
}

describe('a selection', () => {
  test('holds all of a view, gathered in slices, until anything else is chosen', async () => {
    const view = {
      count: 2500,
      ids: (from = 0, to = 2500) => Array.from({ length: to - from }, (_, i) => `${from + i}`),
      at: refused,
      summaries: refused,
    }
    const selection = createSelection()
    selection.begin(['x'])
    const gathered = selection.all(view)
    expect(selection.gathering.value).toBe(true)
    await gathered
    expect(selection.chosen.value?.size).toBe(2500)
    expect(selection.chosen.value?.has('2499')).toBe(true)

    const overtaken = selection.all(view)
    selection.none()
    await overtaken
    expect(selection.chosen.value?.size).toBe(0)
    expect(selection.gathering.value).toBe(false)
  })
})

describe('an entry', () => {
  test('shows what another tab changes, and what is no longer there', async () => {
    const name = freshName()
    const here = await openTestLog({ name })
    const there = await openTestLog({ name })
    const { id } = await here.add(draft({ object: 'bar' }))
    const model = closed(createEntryModel(Promise.resolve(here), id))
    const object = () => {
      const found = model.stored.value
      return found?.state === 'sound' ? found.reading.object : null
    }
    await expect.poll(() => object()).toBe('bar')
    await there.edit(id, { object: 'bar 2' })
    await expect.poll(() => object()).toBe('bar 2')
    await model.edit({ object: 'bar 3' })
    expect(object()).toBe('bar 3')
    await there.remove([id])
    await expect.poll(() => model.stored.value).toBeUndefined()
  })

  test('keeps a recomputed figure beside the first one', async () => {
    const log = await logWith()
    const { id, result } = await log.add(draft())
    const model = closed(createEntryModel(Promise.resolve(log), id))
    await model.keepRecomputed({
      result: temperatureResult(1200),
      reason: 'newer method',
      inputs: null,
      details: null,
    })
    const found = model.stored.value
    if (found?.state !== 'sound') throw new Error()
    expect(found.reading.result).toEqual(result)
    expect(found.reading.recomputations).toHaveLength(1)
  })
})

describe('taking away', () => {
  const stub = (share?: (data: { files: File[] }) => Promise<void>) =>
    vi.stubGlobal('navigator', share ? { canShare: () => true, share } : {})
  const now = () => new Date(2025, 2, 1, 12)

  test('counts as a backup once the whole log has left in a form that can come back', async () => {
    const log = await logWith('anvil')
    const shared: File[] = []
    stub(async ({ files }) => void shared.push(...files))
    const model = createExportModel(Promise.resolve(log), null, now)
    await model.make('zip')
    expect(model.state.value).toMatchObject({ kind: 'made', shareable: true, damaged: 0 })
    expect((await log.status()).lastBackup).toBeNull()
    await model.leave()
    expect(model.state.value).toMatchObject({ kind: 'left', how: 'shared' })
    expect(shared[0]?.name).toBe('glowbook-log-2025-03-01.zip')
    expect(await log.status()).toMatchObject({ unsavedElsewhere: 0, lastBackup: { readings: 1 } })
  })

  test('of a table or of a choice is no backup', async () => {
    const log = await logWith('anvil', 'bar')
    stub(async () => undefined)
    const [first] = await log.newest(1)
    for (const [ids, format] of [
      [null, 'csv'],
      [[first!.id], 'zip'],
    ] as const) {
      const model = createExportModel(Promise.resolve(log), ids, now)
      await model.make(format)
      await model.leave()
      expect(model.state.value.kind).toBe('left')
      expect((await log.status()).lastBackup).toBeNull()
    }
  })

  test('dismissed, the file waits for another tap', async () => {
    const log = await logWith('anvil')
    stub(() => Promise.reject(new DOMException('', 'AbortError')))
    const model = createExportModel(Promise.resolve(log), null, now)
    await model.make('json')
    await model.leave()
    expect(model.state.value.kind).toBe('made')
    expect((await log.status()).lastBackup).toBeNull()
  })

  test('stops when told to, and can begin again', async () => {
    const log = await logWith('anvil')
    stub()
    const model = createExportModel(Promise.resolve(log), null, now)
    const making = model.make('zip')
    model.stop()
    await making
    expect(model.state.value.kind).toBe('idle')
    expect(model.failure.value).toBeNull()
    await model.make('csv')
    expect(model.state.value).toMatchObject({ kind: 'made', shareable: false })
  })
})

describe('bringing back', () => {
  const fileOf = async (log: Log) => new File([await textOf(log.export('json'))], 'log.json')

  test('changes nothing before it is told to, then all', async () => {
    const file = await fileOf(await logWith('anvil', 'bar'))
    const log = await logWith('coil')
    const before = await contentOf(log)
    const model = createImportModel(Promise.resolve(log))
    await model.read(file)
    const seen = model.state.value
    expect(seen.kind === 'seen' && seen.preview.readings.new).toBe(2)
    expect(await contentOf(log)).toBe(before)
    await model.merge('mine')
    expect(model.state.value).toMatchObject({ kind: 'brought', report: { added: 2 } })
    expect(await log.count()).toBe(3)
  })

  test('refuses what is no log, in words, and leaves the log as it was', async () => {
    const log = await logWith('coil')
    const before = await contentOf(log)
    const model = createImportModel(Promise.resolve(log))
    await model.read(new File(['{"holiday":"pictures"}'], 'x.json'))
    expect(model.state.value.kind).toBe('idle')
    expect(noticeOfLogFailure(model.failure.value)?.title).toBe('This is no log of this app')
    expect(await contentOf(log)).toBe(before)
  })

  test('leaves a file when told to', async () => {
    const file = await fileOf(await logWith('anvil'))
    const log = await logWith()
    const model = createImportModel(Promise.resolve(log))
    await model.read(file)
    model.leave()
    expect(model.state.value.kind).toBe('idle')
    await model.merge('mine')
    expect(await log.count()).toBe(0)
  })
})

describe('how safe the log is', () => {
  test('is followed: what was saved is on this device only', async () => {
    const log = await logWith()
    const model = closed(createStatusModel(Promise.resolve(log), Promise.resolve()))
    await expect.poll(() => model.status.value?.unsavedElsewhere).toBe(0)
    await log.add(draft())
    await expect.poll(() => model.status.value?.unsavedElsewhere).toBe(1)
  })
})
