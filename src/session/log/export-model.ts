import { type ReadonlySignal, signal } from '@preact/signals'
import {
  canShare,
  FILE_TYPES,
  fileFrom,
  fileName,
  type Leaving,
  saveOrShare,
} from '../../log/export/export-file.ts'
import type { BackupMark } from '../../log/schema/storage-status.ts'
import type { Log } from '../../log/schema/types.ts'

import { MAPS_TO_EXPORT } from './maps-to-export.ts'

export type ExportFormat = 'zip' | 'json' | 'csv'

export type ExportState =
  | { readonly kind: 'idle' }
  | { readonly kind: 'making'; readonly done: number; readonly total: number }
  /** Made; shared by a tap of its own, because share sheets open only from one. */
  | {
      readonly kind: 'made'
      readonly file: File
      readonly shareable: boolean
      /** Records that could not be read and are not in the file. */
      readonly damaged: number
    }
  | { readonly kind: 'left'; readonly name: string; readonly how: Leaving }

/** As much of the log as an export needs. */
export type Exportable = Pick<Log, 'export' | 'markBackup' | 'backedUp'>

/** Readings on their way into a file. */
export interface ExportModel {
  readonly state: ReadonlySignal<ExportState>
  /** What the log rejected with; null while all is well. */
  readonly failure: ReadonlySignal<unknown>
  make(format: ExportFormat): Promise<void>
  stop(): void
  /** To be called from a tap. */
  leave(): Promise<void>
  reset(): void
}

/** @param ids of what is taken; null takes all, which counts as a backup when it can be read back */
export function createExportModel(
  log: Promise<Exportable>,
  ids: readonly string[] | null,
  now: () => Date,
): ExportModel {
  const state = signal<ExportState>({ kind: 'idle' })
  const failure = signal<unknown>(null)
  let stopping: AbortController | null = null
  let mark: BackupMark | null = null

  return {
    state,
    failure,
    async make(format) {
      const stop = new AbortController()
      stopping?.abort()
      stopping = stop
      failure.value = null
      mark = null
      state.value = { kind: 'making', done: 0, total: ids?.length ?? 0 }
      try {
        const opened = await log
        if (ids === null && format !== 'csv') mark = await opened.markBackup()
        let damaged = 0
        const chunks = opened.export(format, {
          ...(ids ? { ids } : {}),
          maps: MAPS_TO_EXPORT,
          signal: stop.signal,
          progress: (done, total) => {
            if (!stop.signal.aborted) state.value = { kind: 'making', done, total }
          },
          onDamage: () => {
            damaged++
          },
        })
        const name = fileName(format, localDay(now()))
        const file = await fileFrom(chunks, name, FILE_TYPES[format])
        stop.signal.throwIfAborted()
        state.value = { kind: 'made', file, shareable: canShare(file), damaged }
      } catch (error) {
        if (!stop.signal.aborted) failure.value = error
        if (stopping === stop) state.value = { kind: 'idle' }
      }
    },
    stop: () => stopping?.abort(),
    async leave() {
      const made = state.peek()
      if (made.kind !== 'made') return
      try {
        const how = await saveOrShare(made.file)
        if (how === 'dismissed') return
        if (mark) await (await log).backedUp(mark)
        state.value = { kind: 'left', name: made.file.name, how }
      } catch (error) {
        failure.value = error
      }
    },
    reset() {
      state.value = { kind: 'idle' }
      failure.value = null
    },
  }
}

/** The day by this device's clock: file names are for people. */
function localDay(date: Date): string {
  return new Date(date.getTime() - date.getTimezoneOffset() * 60_000).toISOString()
}
