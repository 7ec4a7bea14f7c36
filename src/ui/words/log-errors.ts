import { type Refusal, RefusedFile } from '../../log/import/refused.ts'
import { LogError, type LogFailure } from '../../log/schema/errors.ts'
import type { Missing, Restored, StorageStatus } from '../../log/schema/storage-status.ts'
import type { Notice } from './estimate.ts'
import { isNotLoaded, NOT_LOADED } from './not-loaded.ts'

const megabytes = (bytes: number) => `${Math.round(bytes / 1e6)} MB`

/** Whatever the log rejected with, as a notice. */
export function noticeFromLogError(error: unknown): Notice {
  if (error instanceof LogError) return noticeFromLogFailure(error.failure)
  if (error instanceof RefusedFile) return noticeFromRefusal(error.refusal)
  if (isNotLoaded(error)) return NOT_LOADED
  return {
    weight: 'stop',
    title: 'Something unexpected went wrong with the log',
    todo: `What was saved before is still there. Try again, or reload (${String(error)}).`,
  }
}

/** The same of a model's `failure`; null where there is none. */
export const noticeOfLogFailure = (failure: unknown): Notice | null =>
  failure === null || failure === undefined ? null : noticeFromLogError(failure)

/** The same in one line. */
export function logSentence(error: unknown): string {
  const { title, todo } = noticeFromLogError(error)
  return `${title}. ${todo}`
}

/** What went wrong with the log, and what to do. */
export function noticeFromLogFailure(failure: LogFailure): Notice {
  switch (failure.code) {
    case 'storage refused':
      return {
        weight: 'stop',
        title: 'This browser does not let the log be stored',
        todo: 'Private windows and blocked site data do that. Open the app in a normal window or allow site data. Until then a reading lasts only as long as this page: write it down.',
      }
    case 'storage unanswered':
      return {
        weight: 'stop',
        title: 'The browser cannot open the log just now',
        todo: 'Mostly the disk is full: free space on the device, close other tabs of this app, then reload. Do not clear site data: what was saved comes back.',
      }
    case 'storage full': {
      const { usageBytes, quotaBytes } = failure
      const figures =
        usageBytes === null || quotaBytes === null
          ? ''
          : ` ${megabytes(usageBytes)} of ${megabytes(quotaBytes)} are used.`
      return {
        weight: 'stop',
        title: 'Not saved: the storage is full',
        todo: `Everything saved before is still there.${figures} Write down what is in hand, free space on the device, reload, and save again.`,
      }
    }
    case 'upgrade blocked':
      return {
        weight: 'stop',
        title: 'Another tab holds the old log open',
        todo: 'Close the other tabs of this app, then try again. Nothing is lost.',
      }
    case 'version newer':
      return {
        weight: 'stop',
        title: 'The log was written by a newer version of this app',
        todo: 'Reload to get the new version; where offline, connect once. The log is left as it is.',
      }
    case 'upgrade failed':
      return {
        weight: 'stop',
        title: 'The log could not be carried over to this version',
        todo: 'Your readings are as they were. Free some space on the device and reload; if it stays so, report the details below.',
      }
    case 'closed':
      return {
        weight: 'stop',
        title: 'A newer version runs in another tab',
        todo: 'This tab can no longer save. Finish what you are looking at, then reload.',
      }
    case 'database deleted':
      return {
        weight: 'stop',
        title: 'The browser has deleted the log while it was open',
        todo: 'Reload: what the second copy holds is put back. Write down what is in hand before.',
      }
    case 'not a reading':
    case 'not a kit item':
    case 'not a recording':
      return {
        weight: 'stop',
        title: 'Not saved: something in it does not fit',
        todo: `A text may be too long, or a number is missing (${failure.where}). Change it and save again.`,
      }
    case 'not a picture':
      return {
        weight: 'stop',
        title: 'Not saved: the small picture cannot be kept',
        todo: `It must be a JPEG, PNG or WebP of at most 4 MB (${failure.detail}). The reading can be saved without it.`,
      }
    case 'not found':
      return {
        weight: 'warn',
        title: 'This entry is no longer there',
        todo: 'It was deleted, perhaps in another tab. Look under “Deleted lately”.',
      }
    case 'already there':
      return {
        weight: 'note',
        title: 'This entry is saved already',
        todo: 'Nothing was changed.',
      }
    case 'damaged':
      return {
        weight: 'warn',
        title: 'This entry is damaged and cannot be changed',
        todo: `What is left of it can be exported as text (${failure.where}). A backup may bring it back.`,
      }
    case 'measured, not editable':
      return {
        weight: 'note',
        title: 'A measured temperature cannot be edited',
        todo: 'Compute the reading again, or enter a second one by hand.',
      }
    case 'storage failed':
      return {
        weight: 'stop',
        title: 'The browser’s storage failed',
        todo: `Nothing of this change was kept; everything before is. Try again, or reload (${failure.detail}).`,
      }
  }
}

/** Why a file was not read. The log is as it was in every case. */
export function noticeFromRefusal(refusal: Refusal): Notice {
  const unchanged = 'The log is as it was.'
  switch (refusal.code) {
    case 'not ours':
      return {
        weight: 'stop',
        title: 'This is no log of this app',
        todo: `It takes the JSON and ZIP files that “Export” makes; a recording by itself is imported under Recordings. ${unchanged}`,
      }
    case 'newer version':
      return {
        weight: 'stop',
        title: 'The file is from a newer version of this app',
        todo: `Update the app (reload while online), then read the file again. ${unchanged}`,
      }
    case 'broken':
      return {
        weight: 'stop',
        title: 'The file is damaged',
        todo: `It was cut short or changed on its way (${refusal.where}). Copy it again, or take an older one. ${unchanged}`,
      }
    case 'too large':
      return {
        weight: 'stop',
        title: 'The file holds more than any log can',
        todo: `Something in it is too long, too deep or swells when unpacked (${refusal.where}). ${unchanged}`,
      }
    case 'wrong content':
      return {
        weight: 'stop',
        title: 'An entry of the file is not as it should be',
        todo: `Nothing was taken, because a log is read whole or not at all (${refusal.where}). ${unchanged}`,
      }
    case 'wrong picture':
      return {
        weight: 'stop',
        title: 'A picture in the file does not belong to its reading',
        todo: `It was changed or damaged (reading ${refusal.id}). Take the JSON without pictures, or another copy. ${unchanged}`,
      }
  }
}

/** The browser has cleared the storage, or lost its end. */
export function noticeOfMissing(missing: Missing, showDate: (iso: string) => string): Notice {
  if (missing.readings === 0) {
    return {
      weight: 'stop',
      title: 'The last changes to the log are gone',
      todo: `The browser has lost what was saved around ${showDate(missing.lastSeen)}. Look through the newest entries and the kit, and import your latest backup.`,
    }
  }
  const one = missing.readings === 1
  return {
    weight: 'stop',
    title: one
      ? '1 reading that was here is gone'
      : `${missing.readings} readings that were here are gone`,
    todo: `The browser has lost ${one ? 'it; it was' : 'them; they were'} last seen on ${showDate(missing.lastSeen)}. Import your latest backup, then ask the browser to keep the log.`,
  }
}

/** The database was lost, and is whole again. */
export function noticeOfRestored(restored: Restored, showDate: (iso: string) => string): Notice {
  const readings = restored.readings === 1 ? '1 reading' : `${restored.readings} readings`
  return {
    weight: 'warn',
    title: 'The log was lost and has been put back',
    todo: `On ${showDate(restored.at)} the browser had dropped it; the second copy brought back ${readings}. Export a backup now: what happens once can happen again.`,
  }
}

/** How safe the log is, by weight; empty when there is nothing to say. */
export function noticesOfStatus(status: StorageStatus): Notice[] {
  const notices: Notice[] = []
  if (status.stopped) {
    notices.push({
      weight: 'stop',
      title: 'The disk is full: saving has stopped',
      todo: 'What was saved stays as it is. Export the log to another place now, free space on the device, then reload.',
    })
  }
  if (status.clockBehind !== null) {
    notices.push({
      weight: 'warn',
      title: 'The clock of this device stands in the past',
      todo: `The newest reading here was saved on ${status.clockBehind.slice(0, 10)}. Set the date and time before you save: readings are dated by them.`,
    })
  }
  if (status.nearlyFull) {
    notices.push({
      weight: 'warn',
      title: 'The storage is nearly full',
      todo: 'Free space on the device, or export the log as a file and delete what is no longer needed.',
    })
  }
  if (status.secondCopy !== 'kept') {
    notices.push({
      weight: 'note',
      title: 'Only one copy of the log is kept here',
      todo:
        status.secondCopy === 'none'
          ? 'This browser has no place for a second one (private windows do not either). Export a backup after each day’s work.'
          : 'The second one could not be written; it is made again when the app next starts. Until then, export a backup.',
    })
  }
  if (status.remindBackup) {
    const entries =
      status.unsavedElsewhere === 1 ? '1 entry is' : `${status.unsavedElsewhere} entries are`
    notices.push({
      weight: 'note',
      title: `${entries} on this device only`,
      todo: 'Export the log as a ZIP and keep it elsewhere: a lost phone is a lost book.',
    })
  }
  return notices
}
