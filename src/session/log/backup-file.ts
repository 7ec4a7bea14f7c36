import * as places from '../../log/export/backup-place.ts'
import type { Log } from '../../log/schema/types.ts'
import { type BackupFileModel, createBackupFileModel } from './backup-file-model.ts'

let kept: BackupFileModel | undefined

/** One for the whole app: it is written whatever screen is open. */
export function backupFile(log: Promise<Log>): BackupFileModel {
  kept ??= createBackupFileModel(log, places)
  return kept
}
