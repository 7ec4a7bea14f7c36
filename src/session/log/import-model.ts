import { type ReadonlySignal, signal } from '@preact/signals'
import type { ImportPreview, ImportReport } from '../../log/schema/import-preview.ts'
import type { Log } from '../../log/schema/types.ts'

export type ImportState =
  | { readonly kind: 'idle' }
  | {
      readonly kind: 'reading' | 'merging'
      readonly name: string
      readonly done: number
      readonly total: number
    }
  /** Nothing has changed yet. */
  | { readonly kind: 'seen'; readonly name: string; readonly preview: ImportPreview }
  | { readonly kind: 'brought'; readonly name: string; readonly report: ImportReport }

/** A file on its way into the log: read, looked at, then merged whole or left. */
export interface ImportModel {
  readonly state: ReadonlySignal<ImportState>
  /** What the log rejected with; null while all is well. */
  readonly failure: ReadonlySignal<unknown>
  read(file: File): Promise<void>
  merge(conflicts: 'mine' | 'theirs'): Promise<void>
  stop(): void
  /** Leaves the file; the log stays as it is. */
  leave(): void
}

export function createImportModel(log: Promise<Log>): ImportModel {
  const state = signal<ImportState>({ kind: 'idle' })
  const failure = signal<unknown>(null)
  let stopping: AbortController | null = null

  const work = (kind: 'reading' | 'merging', name: string, stop: AbortController) => ({
    signal: stop.signal,
    progress: (done: number, total: number) => {
      if (!stop.signal.aborted) state.value = { kind, name, done, total }
    },
  })
  const begin = (kind: 'reading' | 'merging', name: string): AbortController => {
    stopping?.abort()
    stopping = new AbortController()
    failure.value = null
    state.value = { kind, name, done: 0, total: 0 }
    return stopping
  }
  const fail = (stop: AbortController, error: unknown) => {
    if (!stop.signal.aborted) failure.value = error
    if (stopping === stop) state.value = { kind: 'idle' }
  }
  const leave = () => {
    const seen = state.peek()
    state.value = { kind: 'idle' }
    // What was set aside of the file; left over it is cleared at a later start.
    if (seen.kind === 'seen') seen.preview.discard().catch(() => undefined)
  }
  return {
    state,
    failure,
    async read(file) {
      leave()
      const stop = begin('reading', file.name)
      try {
        const preview = await (await log).readFile(file, work('reading', file.name, stop))
        if (stop.signal.aborted) {
          preview.discard().catch(() => undefined)
          stop.signal.throwIfAborted()
        }
        state.value = { kind: 'seen', name: file.name, preview }
      } catch (error) {
        fail(stop, error)
      }
    },
    async merge(conflicts) {
      const seen = state.peek()
      if (seen.kind !== 'seen') return
      const { name, preview } = seen
      const stop = begin('merging', name)
      try {
        const report = await preview.merge({ conflicts, ...work('merging', name, stop) })
        state.value = { kind: 'brought', name, report }
      } catch (error) {
        preview.discard().catch(() => undefined)
        fail(stop, error)
      }
    },
    stop: () => stopping?.abort(),
    leave,
  }
}
