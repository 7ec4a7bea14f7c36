import { afterEach, expect, it, vi } from 'vitest'
import { closeTestLogs, draft, freshName, openTestLog, tickingClock } from './opening.ts'

afterEach(closeTestLogs)

const { openCursor } = IDBObjectStore.prototype

/** Opens the log again and waits for what it clears up behind the opening; its last work is `incoming`. */
async function cleared(name: string, from: string) {
  let done = () => {}
  const last = new Promise<void>((resolve) => {
    done = resolve
  })
  vi.spyOn(IDBObjectStore.prototype, 'openCursor').mockImplementation(function (
    this: IDBObjectStore,
    ...args
  ) {
    if (this.name === 'incoming') {
      this.transaction.addEventListener('complete', done)
    }
    return openCursor.apply(this, args)
  })
  const log = await openTestLog({ name, now: tickingClock(from) })
  await last
  return log
}

it('what was removed is there for a day and not longer', async () => {
  const name = freshName()
  const log = await openTestLog({ name })
  const { id } = await log.add(draft())
  const lamp = await log.kit.add({ kind: 'lamp', name: 'Lamp', data: {} })
  await log.remove([id])
  const undone = await log.kit.remove([lamp.id])
  const nearly = await cleared(name, '2025-03-02T09:00:00Z')
  expect(await nearly.removed()).toHaveLength(1)
  const later = await cleared(name, '2025-03-02T11:00:00Z')
  expect(await later.removed()).toHaveLength(0)
  await later.kit.restore(undone)
  expect((await later.kit.list()).items).toEqual([])
})

it('what another tab restores while it is being purged stays', async () => {
  const name = freshName()
  const log = await openTestLog({ name })
  const { id } = await log.add(draft())
  const lamp = await log.kit.add({ kind: 'lamp', name: 'Lamp', data: {} })
  // As they were found a moment before: both among the removed.
  const all = <T>(index: IDBIndex, ask: (store: IDBObjectStore) => T, own: () => T) =>
    index.name === 'removed' ? ask(index.objectStore) : own()
  const { getAll, getAllKeys } = IDBIndex.prototype
  vi.spyOn(IDBIndex.prototype, 'getAll').mockImplementation(function (this: IDBIndex, ...args) {
    return all(
      this,
      (store) => store.getAll(),
      () => getAll.apply(this, args),
    )
  })
  vi.spyOn(IDBIndex.prototype, 'getAllKeys').mockImplementation(function (this: IDBIndex, ...args) {
    return all(
      this,
      (store) => store.getAllKeys(),
      () => getAllKeys.apply(this, args),
    )
  })
  const other = await cleared(name, '2025-03-05T10:00:00Z')
  vi.restoreAllMocks()
  expect(await other.get(id)).toMatchObject({ state: 'sound' })
  expect((await other.kit.list()).items.map((item) => item.id)).toEqual([lamp.id])
})

it('what an import of another tab has set aside is left to it for a day', async () => {
  const name = freshName()
  const log = await openTestLog({ name })
  const reading = { ...(await log.add(draft())), id: '00000000-0000-4000-8000-000000000001' }
  const file = new Blob([
    JSON.stringify({ schema: 'glowbook-log', version: 2, readings: [reading], kit: [] }),
  ])
  const young = await log.readFile(file)
  await cleared(name, '2025-03-02T09:00:00Z')
  expect(await young.merge({ conflicts: 'mine' })).toMatchObject({ added: 1 })
  const old = await log.readFile(file)
  await cleared(name, '2025-03-05T10:00:00Z')
  await expect(old.merge({ conflicts: 'mine' })).rejects.toMatchObject({ code: 'storage failed' })
})
