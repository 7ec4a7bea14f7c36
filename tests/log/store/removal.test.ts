import { afterEach, describe, expect, test } from 'vitest'
import type { LogChange } from '../../../src/log/schema/types.ts'
import { dumpDatabase, tamper } from '../fixture-database.ts'
import { closeTestLogs, draft, freshName, jpegBlob, openTestLog } from '../opening.ts'

afterEach(closeTestLogs)

describe('what is deleted', () => {
  test('is listed apart, the last first, and counts no more; once is enough', async () => {
    const log = await openTestLog()
    const ids: string[] = []
    for (const object of ['a', 'b', 'c']) ids.push((await log.add(draft({ object }))).id)
    const heard: LogChange[] = []
    log.subscribe((change) => heard.push(change))
    const undo = await log.remove([ids[2]!, 'no such', ids[0]!, ids[2]!])
    expect(undo).toEqual({ ids: [ids[2], ids[0]] })
    expect(heard).toEqual([{ kind: 'readings', ids: [ids[2], ids[0]], elsewhere: false }])
    expect(await log.remove([ids[0]!])).toEqual({ ids: [] })
    expect((await log.removed()).map(({ object }) => object)).toEqual(['a', 'c'])
    expect([await log.count(), (await log.find()).count]).toEqual([1, 1])
    expect((await log.status()).unsavedElsewhere).toBe(1)
    expect(await log.heads(ids)).toHaveLength(1)
  })

  test('comes back as it was, at its own time, and needs a backup again', async () => {
    const log = await openTestLog()
    const at = (iso: string) => log.add(draft({ object: iso, takenAt: { iso, zone: '' } }))
    const [early, late] = [await at('2025-01-01T00:00:00Z'), await at('2025-01-02T00:00:00Z')]
    const practice = await log.add(draft({ method: 'practice' }))
    await log.backedUp(await log.markBackup())
    const undo = await log.remove([early!.id, practice.id])
    const heard: LogChange[] = []
    log.subscribe((change) => heard.push(change))
    await log.restore({ ids: ['no such', ...undo.ids, late!.id] })
    expect(heard).toMatchObject([{ kind: 'readings', elsewhere: false }])
    expect((await log.newest(5)).map(({ id }) => id)).toEqual([practice.id, late!.id, early!.id])
    expect([await log.count(), (await log.removed()).length]).toEqual([3, 0])
    expect((await log.status()).unsavedElsewhere).toBe(1)
    // Once more changes nothing.
    await log.restore(undo)
    expect([await log.count(), (await log.status()).unsavedElsewhere]).toEqual([3, 1])
    expect(await log.check()).toEqual([])
  })

  test('is listed also where it is damaged', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const { id } = await log.add(draft())
    await log.remove([id])
    await tamper(name, 'readings', (store) => {
      const request = store.get(0)
      request.onsuccess = () => store.put({ ...request.result, json: '{' })
    })
    expect(await log.removed()).toMatchObject([{ id, damaged: true }])
    await log.restore({ ids: [id] })
    expect(await log.newest(1)).toMatchObject([{ id, damaged: true }])
    expect((await log.status()).unsavedElsewhere).toBe(0)
  })
})

describe('an emptied log', () => {
  test('holds nothing of a reading, and gives no number twice', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const picture = { blob: jpegBlob(), width: 3, height: 2 }
    await log.add(draft({ inputs: { a: 1 } }), picture)
    await log.kit.add({ kind: 'lamp', name: 'Lamp', data: null })
    const records = async (of: string) =>
      (await dumpDatabase(name)).stores.find((store) => store.name === of)!.records
    await log.empty()
    for (const store of ['readings', 'inputs', 'pictures', 'blocks'])
      expect(await records(store), store).toEqual([])
    expect(await records('kit')).toHaveLength(1)
    const { id } = await log.add(draft())
    expect((await records('readings')).map(({ key }) => key)).toEqual([1])
    expect((await log.find()).ids()).toEqual([id])
    expect(await log.count()).toBe(1)
  })

  test('whose counters were lost goes on behind the last reading', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const first = await log.add(draft())
    await tamper(name, 'state', (store) => {
      store.delete('state')
    })
    const second = await log.add(draft())
    const { stores } = await dumpDatabase(name)
    const keys = stores.find((store) => store.name === 'readings')!.records.map(({ key }) => key)
    expect(keys).toEqual([0, 1])
    await log.check()
    expect((await log.find()).ids()).toEqual([second.id, first.id])
  })
})
