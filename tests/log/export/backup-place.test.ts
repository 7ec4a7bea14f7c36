import 'fake-indexeddb/auto'
import { beforeEach, describe, expect, test, vi } from 'vitest'
import {
  BACKUP_FILE_FLAG,
  type BackupPlace,
  canKeepBackupFile,
  pickBackupPlace,
  storedPlace,
  storePlace,
} from '../../../src/log/export/backup-place.ts'

const words = new Map<string, string>()
beforeEach(() => {
  words.clear()
  vi.stubGlobal('localStorage', {
    getItem: (name: string) => words.get(name) ?? null,
    setItem: (name: string, value: string) => words.set(name, value),
    removeItem: (name: string) => words.delete(name),
  })
})
/** A handle is kept by structured clone, as any plain value. */
const PLACE = { name: 'glowbook-backup.zip' } as unknown as BackupPlace

test('the file that was chosen is found again, with a word outside, until it is let go', async () => {
  expect(await storedPlace()).toBeUndefined()
  await storePlace(PLACE)
  expect(await storedPlace()).toEqual(PLACE)
  expect(words.has(BACKUP_FILE_FLAG)).toBe(true)
  await storePlace({ name: 'another.zip' } as unknown as BackupPlace)
  expect((await storedPlace())?.name).toBe('another.zip')
  await storePlace(null)
  expect(await storedPlace()).toBeUndefined()
  expect(words.has(BACKUP_FILE_FLAG)).toBe(false)
})

describe('a file is chosen', () => {
  const picking = (pick: (options: Record<string, unknown>) => Promise<unknown>) =>
    vi.stubGlobal('showSaveFilePicker', pick)

  test('where the browser offers it', async () => {
    expect(canKeepBackupFile()).toBe(false)
    expect(await pickBackupPlace()).toBeUndefined()
    let asked: Record<string, unknown> = {}
    picking(async (options) => {
      asked = options
      return PLACE
    })
    expect(canKeepBackupFile()).toBe(true)
    expect(await pickBackupPlace()).toBe(PLACE)
    expect(asked).toMatchObject({ suggestedName: /\.zip$/ })
  })

  test('or not, when the dialog is closed; another failure is one', async () => {
    picking(() => Promise.reject(new DOMException('closed', 'AbortError')))
    expect(await pickBackupPlace()).toBeUndefined()
    const refused = new DOMException('no', 'SecurityError')
    picking(() => Promise.reject(refused))
    await expect(pickBackupPlace()).rejects.toBe(refused)
  })
})
