import type { ImportReport } from '../../log/schema/import-preview.ts'
import type { StorageStatus } from '../../log/schema/storage-status.ts'
import { readingsWord, showCount } from './log.ts'

/** Words of export and import. */

export const FORMAT_WORDS = {
  zip: { name: 'ZIP', line: 'Readings, pictures, recordings. The one to keep as a backup.' },
  json: { name: 'JSON', line: 'Readings without pictures. Can be imported again.' },
  csv: { name: 'CSV', line: 'A table for a spreadsheet. Cannot be imported.' },
} as const

export const COUNT_NAMES = {
  new: 'New',
  same: 'The same here',
  conflicting: 'Changed here or there',
  foreign: 'Not the same reading',
} as const

/** What an import has done. */
export function importedSentence({ added, changed, kept, pictures }: ImportReport): string {
  const parts = [
    `${added} added`,
    changed > 0 && `${changed} changed`,
    kept > 0 && `${kept} left as they were`,
    pictures > 0 && (pictures === 1 ? '1 picture' : `${pictures} pictures`),
  ].filter((part) => part !== false)
  return `Imported: ${parts.join(', ')}.`
}

export const PERSISTENCE_WORDS = {
  kept: 'kept until you delete it',
  mayGo:
    'the browser may clear it when space runs short, or after weeks without a visit unless installed',
  unknown: 'this browser does not say',
} as const

export function askedSentence(granted: boolean): string {
  return granted
    ? 'The browser now keeps it until you delete it.'
    : 'The browser does not promise it yet. Install the app, or keep a backup elsewhere.'
}

export function checkedSentence(damaged: number): string {
  return damaged === 0
    ? 'Every record is sound.'
    : `${damaged === 1 ? '1 record is' : `${damaged} records are`} damaged. Filter the log by “Damaged only” to see them.`
}

/** What has to be typed before the log is emptied. */
export const EMPTY_WORD = 'empty'

export const demoSentence = (count: number): string =>
  count === 0 ? 'It was there already.' : `${readingsWord(count)} of a made-up workshop added.`

/** One line in the list that leads to the backup. */
export function listReminder({ missing, unsavedElsewhere }: StorageStatus): string {
  if (missing) return 'Import a backup'
  return unsavedElsewhere > 0
    ? `${showCount(unsavedElsewhere)} on this device only. Make a backup`
    : 'Storage'
}

/**
 * Common practice of browsers: some clear what a site has stored after weeks without a visit, unless
 * it is installed; all may when space runs out.
 */
export const MAY_BE_CLEARED =
  'The browser may clear it after weeks without a visit, unless installed.'

/** A backup file that is kept up to date, by how it stands. */
export const BACKUP_FILE_WORDS = {
  none: 'Choose a file once: it is written again a minute after each change.',
  kept: 'holds all there is. Written again a minute after each change.',
  writing: 'is being written …',
  gone: 'is no longer there: it was moved or deleted.',
  'not allowed': 'is behind. The browser has to be asked again.',
  failed: 'could not be written; what it held before is still there.',
} as const
