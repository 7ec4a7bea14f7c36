/** What the database's own errors mean for the log. */
import { LogError } from '../schema/errors.ts'
import type { DatabaseOptions } from './database.ts'

export function openingError(error: unknown, upgrading: boolean): LogError {
  const name = error instanceof DOMException ? error.name : ''
  const detail = String(error)
  if (name === 'QuotaExceededError' || isDiskFull(error)) {
    return new LogError(
      { code: 'storage full', usageBytes: null, quotaBytes: null },
      { cause: error },
    )
  }
  if (name === 'VersionError') return new LogError({ code: 'version newer' }, { cause: error })
  if (upgrading) return new LogError({ code: 'upgrade failed', detail }, { cause: error })
  // By the standard (IndexedDB, exceptions): a failure that lies neither in the database nor in the rights.
  const code = name === 'UnknownError' ? 'storage unanswered' : 'storage refused'
  return new LogError({ code, detail }, { cause: error })
}

export async function asLogError(
  error: unknown,
  estimate: DatabaseOptions['estimate'],
): Promise<unknown> {
  if (error instanceof LogError) return error
  // Errors of the program pass as they are.
  if (!(error instanceof DOMException)) return error
  if (error.name === 'QuotaExceededError' || isDiskFull(error)) {
    return storageFull(estimate, error)
  }
  return new LogError(
    { code: 'storage failed', detail: `${error.name}: ${error.message}` },
    { cause: error },
  )
}

/**
 * The disk itself is full, which browsers tell in words of their own; a share that is used up is a
 * QuotaExceededError, and a database can be written again after it. Chromium: "Failed to write
 * blobs", and the words of its file system ("NO_SPACE").
 */
export function isDiskFull(error: unknown): boolean {
  if (!(error instanceof Error) || error.name === 'QuotaExceededError') return false
  const told = `${error.name}: ${error.message}`
  return /failed to write blobs|no[_ ]space|disk (is )?full|NS_ERROR_FILE_NO_DEVICE_SPACE/i.test(
    told,
  )
}

export async function storageFull(
  estimate: DatabaseOptions['estimate'],
  cause?: unknown,
): Promise<LogError> {
  const { usage, quota } = (await estimate().catch(() => undefined)) ?? {}
  return new LogError(
    { code: 'storage full', usageBytes: usage ?? null, quotaBytes: quota ?? null },
    { cause },
  )
}
