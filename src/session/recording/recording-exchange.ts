import { UNSAID_RATE_SHARE } from '../../estimate/recording/course-by-level.ts'
import { fileFrom, type Leaving, saveOrShare } from '../../log/export/export-file.ts'
import { recordingsInWorker, tableInWorker } from '../../log/import/content-calls.ts'
import { addRecordings, recordingsZip } from '../../log/recordings/recording-files.ts'
import type { StoredRecording } from '../../log/recordings/types.ts'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Log } from '../../log/schema/types.ts'
import { detailsOf } from './recording-details.ts'

/** A recording as a ZIP of its table and the metadata of it. */
export async function exportRecording(stored: StoredRecording, now: Date): Promise<Leaving> {
  const name = `glowbook-recording-${stored.head.startedAt.iso.slice(0, 10)}.zip`
  return saveOrShare(await fileFrom(recordingsZip([stored], now), name, 'application/zip'))
}

export interface ImportedRecordings {
  readonly added: number
  readonly kept: number
}

/** Recordings of a ZIP, or one of a bare table. @throws RefusedFile, LogError */
export async function importRecordings(log: Log, file: File): Promise<ImportedRecordings> {
  const start = new Uint8Array(await file.slice(0, 2).arrayBuffer())
  if (start[0] === 0x50 && start[1] === 0x4b) {
    // Read once to its end before anything is kept: a file is sound or refused.
    for await (const _ of recordingsInWorker(file));
    return addRecordings(log.recordings, recordingsInWorker(file))
  }
  const columns = await tableInWorker(file)
  await log.recordings.add(
    {
      source: 'table',
      simulated: false,
      startedAt: momentOf(new Date(file.lastModified || Date.now()), deviceZone()),
      cameraId: '',
      methodVersion: '',
      object: file.name.replace(/\.[^.]+$/, '').slice(0, 200),
    },
    columns,
    // A thermometer's curve errs in its rate by no camera's colour.
    detailsOf([], null, columns.lnRatio.some(Number.isFinite) ? UNSAID_RATE_SHARE : 0),
  )
  return { added: 1, kept: 0 }
}
