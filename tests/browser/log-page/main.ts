import '../../../src/trusted-types.ts'
import { fileFrom } from '../../../src/log/export/export-file.ts'
import { openLog } from '../../../src/log/open-log.ts'
import { emptyColumns } from '../../../src/log/recordings/columns.ts'
import { LogError } from '../../../src/log/schema/errors.ts'
import type { Log, LogChange, NewReading, Reading } from '../../../src/log/schema/types.ts'
import { startRecorder } from '../../../src/session/recording/live-recorder.ts'
import { madeUpReading, madeUpReadings } from './made-up.ts'
import { recordedModel } from './recorded-model.ts'

const failureOf = (error: unknown) => (error instanceof LogError ? error.failure : String(error))

const page = {
  openLog,
  fileFrom,
  failureOf,
  madeUpReading,
  madeUpReadings,
  emptyColumns,
  startRecorder,
  recordedModel,
}
export type LogPage = typeof page
export type { Log, LogChange, NewReading, Reading }

declare global {
  var logPage: LogPage
}
globalThis.logPage = page
