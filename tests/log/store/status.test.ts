import { afterEach, describe, expect, test } from 'vitest'
import { tamper } from '../fixture-database.ts'
import { closeTestLogs, draft, freshName, openTestLog } from '../opening.ts'
import { course, RECORDING } from '../recordings/made-recordings.ts'

afterEach(closeTestLogs)

const device = {
  persisted: async () => true,
  persist: async () => true,
  estimate: async () => ({ usage: 1e6, quota: 1e9 }) as StorageEstimate,
}
const refuses = () => Promise.reject(new Error('refused'))

describe('what is said of the browser’s storage', () => {
  test('is what the browser says', async () => {
    const log = await openTestLog({ storage: { ...device, persisted: async () => false } })
    expect(await log.status()).toMatchObject({
      persisted: false,
      usageBytes: 1e6,
      quotaBytes: 1e9,
      nearlyFull: false,
      stopped: false,
    })
    expect(await log.requestPersistence()).toBe(true)
  })

  test('is nothing where the browser does not say, or refuses', async () => {
    const unknown = { persisted: null, usageBytes: null, quotaBytes: null, nearlyFull: false }
    const silent = { persisted: refuses, persist: refuses, estimate: refuses }
    for (const storage of [null, silent]) {
      const log = await openTestLog({ storage })
      expect(await log.status()).toMatchObject(unknown)
      expect(await log.requestPersistence()).toBe(false)
    }
    const empty = await openTestLog({ storage: { ...device, estimate: async () => ({}) } })
    expect(await empty.status()).toMatchObject({ usageBytes: null, quotaBytes: null })
    const denied = await openTestLog({ storage: { ...device, persist: async () => false } })
    expect(await denied.requestPersistence()).toBe(false)
  })
})

describe('a backup', () => {
  const clock = () => {
    let ms = Date.parse('2025-03-01T10:00:00Z')
    const go = (days: number) => {
      ms += 24 * 3600e3 * days
    }
    return { now: () => new Date(ms), go }
  }

  test('is remembered by when it was made and of how many readings, and told of', async () => {
    const { now } = clock()
    const log = await openTestLog({ now })
    expect((await log.status()).lastBackup).toBeNull()
    await log.add(draft())
    const mark = await log.markBackup()
    expect(mark).toMatchObject({ readings: 1, at: '2025-03-01T10:00:00.000Z' })
    await log.add(draft())
    const heard: string[] = []
    log.subscribe(({ kind }) => heard.push(kind))
    await log.backedUp(mark)
    expect(heard).toEqual(['settings'])
    // What came after the mark is in no backup.
    expect(await log.status()).toMatchObject({
      lastBackup: { at: '2025-03-01T10:00:00.000Z', readings: 1 },
      unsavedElsewhere: 1,
    })
  })

  test('of an empty log holds nothing', async () => {
    const log = await openTestLog()
    expect(await log.markBackup()).toMatchObject({ change: 0, readings: 0 })
    expect(await log.status()).toMatchObject({ unsavedElsewhere: 0, remindBackup: false })
  })

  test('is asked for a week after the oldest change that none holds', async () => {
    const { now, go } = clock()
    const log = await openTestLog({ now })
    const reminded = async () => (await log.status()).remindBackup
    go(100)
    expect(await reminded()).toBe(false)
    await log.add(draft())
    go(6)
    await log.add(draft())
    expect(await reminded()).toBe(false)
    go(1.01)
    expect(await reminded()).toBe(true)
    await log.backedUp(await log.markBackup())
    expect(await reminded()).toBe(false)
    go(8)
    expect(await reminded()).toBe(false)
  })

  test('is asked for a week after the last one at the earliest', async () => {
    const { now, go } = clock()
    const log = await openTestLog({ now })
    const mark = await log.markBackup()
    await log.add(draft())
    go(5)
    // It took five days to leave, and holds nothing of the reading.
    await log.backedUp(mark)
    go(6.9)
    expect(await log.status()).toMatchObject({ unsavedElsewhere: 1, remindBackup: false })
    go(0.2)
    expect((await log.status()).remindBackup).toBe(true)
  })

  test('is asked for by kit and recordings alike, after twenty changes in all', async () => {
    const { now } = clock()
    const log = await openTestLog({ now })
    for (let i = 0; i < 18; i++) await log.add(draft())
    await log.kit.add({ kind: 'lamp', name: 'Lamp', data: null })
    expect(await log.status()).toMatchObject({ unsavedElsewhere: 19, remindBackup: false })
    await log.kit.add({ kind: 'lamp', name: 'Another', data: null })
    expect(await log.status()).toMatchObject({ unsavedElsewhere: 20, remindBackup: true })
    // Practice and examples are nothing that a backup should hold.
    await log.add(draft({ method: 'practice' }))
    await log.kit.add({ kind: 'lamp', name: 'Practice', data: null, simulated: true })
    expect((await log.status()).unsavedElsewhere).toBe(20)
  })

  test('of a former version, which says no beginning, counts from its end', async () => {
    const { now, go } = clock()
    const name = freshName()
    const log = await openTestLog({ name, now })
    await log.recordings.add(RECORDING, course([1200]), null)
    go(1)
    await log.backedUp(await log.markBackup())
    await tamper(name, 'state', (store) => {
      const request = store.get('backup')
      request.onsuccess = () => {
        const { markedAt: _, ...former } = request.result as Record<string, unknown>
        store.put(former, 'backup')
      }
    })
    expect((await log.status()).unsavedElsewhere).toBe(0)
  })
})

describe('what the person has not read yet', () => {
  test('is first that something is missing, then that it was restored', async () => {
    const at = '2025-02-01T10:00:00.000Z'
    const unread = async (of: object) => {
      const text = JSON.stringify({ readings: 0, at, missing: null, ...of })
      const marks = { getItem: () => text, setItem: () => undefined }
      return (await openTestLog({ marks })).lossUnread()
    }
    const missing = { readings: 1, lastSeen: at }
    const restored = { readings: 1, at }
    expect(await unread({})).toBeNull()
    expect(await unread({ missing })).toBe('missing')
    expect(await unread({ missing, restored })).toBe('missing')
    expect(await unread({ restored })).toBe('restored')
  })
})
