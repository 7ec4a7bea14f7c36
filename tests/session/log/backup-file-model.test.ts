import { afterEach, expect, test, vi } from 'vitest'
import type { BackupPlace } from '../../../src/log/export/backup-place.ts'
import { createBackupFileModel } from '../../../src/session/log/backup-file-model.ts'
import { closeTestLogs, draft, openTestLog } from '../../log/opening.ts'

afterEach(closeTestLogs)

/** A file on a disk that may be full, in a browser that may refuse. */
function disk() {
  const at = {
    content: '',
    full: false,
    deleted: false,
    allowed: true,
    stored: undefined as BackupPlace | undefined,
  }
  const getFile = async () => {
    if (at.deleted) throw new DOMException('', 'NotFoundError')
    return new File([at.content], 'backup.zip')
  }
  const place = {
    name: 'backup.zip',
    queryPermission: async () => (at.allowed ? 'granted' : 'prompt'),
    requestPermission: async () => {
      at.allowed = true
      return 'granted'
    },
    getFile,
    async createWritable() {
      await getFile()
      let coming = ''
      return {
        write: async (bytes: Uint8Array) => {
          if (at.full) throw new DOMException('full', 'QuotaExceededError')
          coming += new TextDecoder('latin1').decode(bytes)
        },
        close: async () => {
          at.content = coming
        },
        abort: async () => {},
      }
    },
  } as unknown as BackupPlace
  const places = {
    pickBackupPlace: async () => place,
    storedPlace: async () => at.stored,
    storePlace: async (to: BackupPlace | null) => {
      at.stored = to ?? undefined
    },
  }
  return { at, places }
}

test('a chosen file holds the log, and again after a change, without a tap', async () => {
  const { at, places } = disk()
  const log = await openTestLog()
  await log.add(draft())
  const model = createBackupFileModel(Promise.resolve(log), places, 0)
  const states: unknown[] = []
  model.state.subscribe((state) => void states.push(state))
  await model.choose()
  const name = 'backup.zip'
  expect(states).toEqual([{ kind: 'none' }, { kind: 'writing', name }, { kind: 'kept', name }])
  const { unsavedElsewhere, lastBackup } = await log.status()
  expect([unsavedElsewhere, lastBackup?.readings]).toEqual([0, 1])
  // What can be read back: a ZIP.
  expect(at.content.slice(0, 2)).toBe('PK')
  const before = at.content
  const { id } = await log.add(draft())
  await expect.poll(() => at.content).not.toBe(before)
  await expect.poll(async () => (await log.status()).unsavedElsewhere).toBe(0)
  await model.forget()
  const last = at.content
  await log.remove([id])
  await model.settled()
  expect(at.content).toBe(last)
  expect(at.stored).toBeUndefined()
})

test('what cannot be written leaves the former backup, says so, and counts as no backup', async () => {
  const { at, places } = disk()
  const log = await openTestLog()
  await log.add(draft())
  const model = createBackupFileModel(Promise.resolve(log), places)
  await model.choose()
  const before = at.content
  at.full = true
  await log.add(draft())
  await model.update()
  expect(model.state.value).toMatchObject({ kind: 'failed', name: 'backup.zip' })
  expect(at.content).toBe(before)
  expect((await log.status()).unsavedElsewhere).toBe(1)
  at.full = false
  await model.update()
  expect(model.state.value.kind).toBe('kept')
})

test('a browser that wants to be asked again is asked by a tap, not before', async () => {
  const { at, places } = disk()
  const log = await openTestLog()
  await log.add(draft())
  at.stored = await places.pickBackupPlace()
  at.allowed = false
  const model = createBackupFileModel(Promise.resolve(log), places)
  await model.settled()
  expect(model.state.value).toEqual({ kind: 'not allowed', name: 'backup.zip' })
  expect(at.content).toBe('')
  await model.update()
  expect(model.state.value.kind).toBe('kept')
  expect(at.content).not.toBe('')
})

test('a file that was deleted elsewhere is told at the next start, and another one can be chosen', async () => {
  const { at, places } = disk()
  const log = await openTestLog()
  await log.add(draft())
  const first = createBackupFileModel(Promise.resolve(log), places)
  await first.choose()
  at.deleted = true
  const model = createBackupFileModel(Promise.resolve(log), places)
  await model.settled()
  expect(model.state.value).toEqual({ kind: 'gone', name: 'backup.zip' })
  at.deleted = false
  await model.choose()
  expect(model.state.value.kind).toBe('kept')
})

test('a file that holds all is left as it is, one that was not chosen is none', async () => {
  const { at, places } = disk()
  const log = await openTestLog()
  await log.add(draft())
  const first = createBackupFileModel(Promise.resolve(log), places)
  await first.choose()
  at.content = 'as it was written'
  const model = createBackupFileModel(Promise.resolve(log), places)
  await model.settled()
  expect([model.state.value.kind, at.content]).toEqual(['kept', 'as it was written'])
  const none = {
    ...places,
    pickBackupPlace: async () => undefined,
    storedPlace: async () => undefined,
  }
  const unchosen = createBackupFileModel(Promise.resolve(log), none, 0)
  await unchosen.choose()
  await unchosen.update()
  await log.add(draft())
  await unchosen.settled()
  expect([unchosen.state.value, at.content]).toEqual([{ kind: 'none' }, 'as it was written'])
})

test('several changes in a row are one writing, after they have come to rest', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
  const { at, places } = disk()
  const log = await openTestLog()
  await log.add(draft())
  const model = createBackupFileModel(Promise.resolve(log), places)
  await model.choose()
  await model.settled()
  const before = at.content
  const mark = vi.spyOn(log, 'markBackup')
  let told = 0
  log.subscribe(() => told++)
  for (let i = 0; i < 3; i++) {
    const before = told
    await log.add(draft())
    await expect.poll(() => told).toBeGreaterThan(before)
    vi.advanceTimersByTime(50_000)
  }
  await model.settled()
  expect(at.content).toBe(before)
  vi.advanceTimersByTime(11_000)
  await model.settled()
  expect(mark).toHaveBeenCalledOnce()
  expect(at.content).not.toBe(before)
  vi.useRealTimers()
})
