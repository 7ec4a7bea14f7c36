import { useMemo } from 'preact/hooks'
import { canKeepBackupFile } from '../../../log/export/backup-place.ts'
import { backupFile } from '../../../session/log/backup-file.ts'
import type { BackupFileModel, BackupFileState } from '../../../session/log/backup-file-model.ts'
import { useServices } from '../../../session/services.ts'
import { sayFailure } from '../../../ui/say-failure.ts'
import { BACKUP_FILE_WORDS } from '../../../ui/words/storage.ts'

/** A backup file outside of the browser, chosen once and kept up to date; where the browser allows it. */
export function BackupFileSection() {
  const { log } = useServices()
  const model = useMemo(() => (canKeepBackupFile() ? backupFile(log) : null), [log])
  return model && <BackupFile model={model} state={model.state.value} />
}

function BackupFile({ model, state }: { model: BackupFileModel; state: BackupFileState }) {
  const { kind } = state
  return (
    <div class="stack tight">
      <p class="small soft" role="status">
        {state.kind !== 'none' && <strong>{state.name}: </strong>}
        {BACKUP_FILE_WORDS[kind]}
      </p>
      {(kind === 'none' || kind === 'gone') && (
        <button type="button" onClick={() => void model.choose().catch(sayFailure)}>
          {kind === 'none' ? 'Keep a backup file up to date' : 'Choose a file again'}
        </button>
      )}
      {(kind === 'not allowed' || kind === 'failed') && (
        <button type="button" class="primary" onClick={() => void model.update()}>
          Write it now
        </button>
      )}
      {kind !== 'none' && kind !== 'writing' && (
        <button type="button" onClick={() => void model.forget().catch(sayFailure)}>
          Stop writing it
        </button>
      )}
    </div>
  )
}
