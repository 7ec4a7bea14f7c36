/**
 * A file of the device's own storage that the app may write again and again, chosen once by the person
 * (File System Access, WICG draft of 2025; not in every browser).
 */
import { openDB } from 'idb'

export interface BackupPlace {
  readonly name: string
  /** Rejects with a NotFoundError where it was moved or deleted. */
  getFile(): Promise<File>
  /** Takes the place of the former content when it is closed, and not before. */
  createWritable(): Promise<FileSystemWritableFileStream>
  queryPermission(asked: { mode: 'readwrite' }): Promise<PermissionState>
  /** To be called from a tap. */
  requestPermission(asked: { mode: 'readwrite' }): Promise<PermissionState>
}

type Picker = (options: {
  suggestedName: string
  types: { description: string; accept: Record<string, string[]> }[]
}) => Promise<BackupPlace>

const picker = (): Picker | undefined =>
  (globalThis as { showSaveFilePicker?: Picker }).showSaveFilePicker

export const canKeepBackupFile = (): boolean => picker() !== undefined

/** Undefined when the person closed the dialog. To be called from a tap. */
export async function pickBackupPlace(): Promise<BackupPlace | undefined> {
  try {
    return await picker()?.call(globalThis, {
      suggestedName: 'glowbook-backup.zip',
      types: [{ description: 'ZIP', accept: { 'application/zip': ['.zip'] } }],
    })
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return undefined
    throw error
  }
}

/** Handles are no JSON: they lie in a small database of their own. */
const places = () =>
  openDB('glowbook backup file', 1, {
    upgrade(db) {
      db.createObjectStore('places')
    },
  })

/** A word in localStorage spares those without such a file the opening of the database. */
export const BACKUP_FILE_FLAG = 'glowbook.backup-file'

export async function storePlace(place: BackupPlace | null): Promise<void> {
  const db = await places()
  if (place === null) await db.delete('places', 'backup')
  else await db.put('places', place, 'backup')
  db.close()
  if (place === null) localStorage.removeItem(BACKUP_FILE_FLAG)
  else localStorage.setItem(BACKUP_FILE_FLAG, 'kept')
}

export async function storedPlace(): Promise<BackupPlace | undefined> {
  const db = await places()
  const place = (await db.get('places', 'backup')) as BackupPlace | undefined
  db.close()
  return place
}
