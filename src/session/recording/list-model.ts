import { type ReadonlySignal, signal } from '@preact/signals'
import type { RecordingList } from '../../log/recordings/types.ts'
import type { Log, Undo } from '../../log/schema/types.ts'

/** The recordings of the log, followed. */
export interface RecordingListModel {
  /** Null until they were read. */
  readonly list: ReadonlySignal<RecordingList | null>
  readonly failure: ReadonlySignal<unknown>
  remove(ids: readonly string[]): Promise<Undo>
  restore(undo: Undo): Promise<void>
  dispose(): void
}

export function createRecordingListModel(log: Promise<Log>): RecordingListModel {
  const list = signal<RecordingList | null>(null)
  const failure = signal<unknown>(null)
  let disposed = false
  let stop: (() => void) | undefined
  let asked = 0
  const fail = (error: unknown) => {
    if (!disposed) failure.value = error
  }
  const read = async (opened: Log) => {
    const mine = ++asked
    const found = await opened.recordings.list()
    if (mine === asked && !disposed) list.value = found
  }
  log
    .then((opened) => {
      if (disposed) return
      stop = opened.subscribe(({ kind }) => {
        if (kind === 'recordings' || kind === 'everything') read(opened).catch(fail)
      })
      return read(opened)
    })
    .catch(fail)
  return {
    list,
    failure,
    remove: async (ids) => (await log).recordings.remove(ids),
    restore: async (undo) => (await log).recordings.restore(undo),
    dispose() {
      disposed = true
      stop?.()
    },
  }
}
