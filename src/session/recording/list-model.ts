import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { fold, wordsOf } from '../../log/index/fold.ts'
import type { RecordingHead } from '../../log/recordings/recording-schema.ts'
import type { RecordingList } from '../../log/recordings/types.ts'
import type { Log, Undo } from '../../log/schema/types.ts'

/** The recordings of the log, followed. */
export interface RecordingListModel {
  /** Null until they were read. */
  readonly list: ReadonlySignal<RecordingList | null>
  /** What is searched for: every word in object, surface, notes or marks, as in the log. */
  readonly text: Signal<string>
  /** Those of the list that fit, newest first. */
  readonly found: ReadonlySignal<readonly RecordingHead[]>
  readonly failure: ReadonlySignal<unknown>
  remove(ids: readonly string[]): Promise<Undo>
  restore(undo: Undo): Promise<void>
  dispose(): void
}

export function createRecordingListModel(log: Promise<Log>): RecordingListModel {
  const list = signal<RecordingList | null>(null)
  const failure = signal<unknown>(null)
  const text = signal('')
  const found = computed(() => {
    const words = wordsOf(text.value)
    const items = list.value?.items ?? []
    if (words.length === 0) return items
    return items.filter((head) => {
      const said = fold(saidOf(head))
      return words.every((word) => said.includes(word))
    })
  })
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
    text,
    found,
    failure,
    remove: async (ids) => (await log).recordings.remove(ids),
    restore: async (undo) => (await log).recordings.restore(undo),
    dispose() {
      disposed = true
      stop?.()
    },
  }
}

const saidOf = ({ object, material, notes, marks }: RecordingHead) =>
  [object, material, notes, ...marks.flatMap(({ name, note }) => [name, note])].join('\n')
