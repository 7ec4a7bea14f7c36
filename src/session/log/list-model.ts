import { batch, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { LogError } from '../../log/schema/errors.ts'
import type {
  Filter,
  Log,
  LogChange,
  LogView,
  Summary,
  Vocabulary,
} from '../../log/schema/types.ts'
import { afterPaint } from '../../sources/after-paint.ts'
import { createSelection, type Selection } from './selection.ts'

/** How many readings are shown before the index of all of them is asked for. */
const FIRST_COUNT = 30

export interface ListModel {
  /** The newest, at once; null until they are there. */
  readonly newest: ReadonlySignal<readonly Summary[] | null>
  /** How many there are in all; null until they were counted. */
  readonly total: ReadonlySignal<number | null>
  /** How many recordings lie in a log without readings; null until they were counted. */
  readonly recordings: ReadonlySignal<number | null>
  /** All that fit the filter, once they are found. */
  readonly view: ReadonlySignal<LogView | null>
  readonly filter: ReadonlySignal<Filter>
  /** What the person has used so far; null until {@link readVocabulary} was answered. */
  readonly vocabulary: ReadonlySignal<Vocabulary | null>
  /** What the log rejected with; null while all is well. */
  readonly failure: ReadonlySignal<unknown>
  /** The first answers are there, or there are none: other questions can be asked of the log. */
  readonly ready: Promise<void>
  readonly selection: Selection
  /** What of the list lies above the window, px (below 0: it begins inside); null at the page's top. */
  readonly place: Signal<number | null>
  find(filter: Filter): void
  /** How many readings a filter would show. */
  count(filter: Filter): Promise<number>
  readVocabulary(): void
  dispose(): void
}

export function createListModel(log: Promise<Log>): ListModel {
  const newest = signal<readonly Summary[] | null>(null)
  const total = signal<number | null>(null)
  const recordings = signal<number | null>(null)
  const view = signal<LogView | null>(null)
  const filter = signal<Filter>({})
  const vocabulary = signal<Vocabulary | null>(null)
  const failure = signal<unknown>(null)
  const selection = createSelection()
  let stop: (() => void) | undefined
  let disposed = false
  let asked = 0

  const fail = (error: unknown) => {
    if (!disposed) failure.value = error
  }
  const read = async (opened: Log) => {
    const mine = ++asked
    const found = await opened.find(filter.peek())
    // A later question has been asked meanwhile: its answer counts.
    if (mine !== asked || disposed) return
    view.value = found
    countRecordings(opened)
  }
  // Only what says that there is nothing has to know whether there are recordings.
  const countRecordings = (opened: Log) => {
    if (view.peek()?.count !== 0 || Object.keys(filter.peek()).length > 0) return
    const show = (count: number) => {
      if (!disposed) recordings.value = count
    }
    opened.recordings.list().then(
      ({ items }) => show(items.length),
      // Their own screen tells why.
      () => show(0),
    )
  }
  const hear = (opened: Log, change: LogChange) => {
    if (change.kind === 'closed') failure.value = new LogError({ code: change.code })
    if (change.kind === 'readings' || change.kind === 'everything') {
      vocabulary.value = null
      read(opened).catch(fail)
    }
    if (change.kind === 'recordings') countRecordings(opened)
  }
  const ready = log
    .then(async (opened) => {
      if (disposed) return
      stop = opened.subscribe((change) => hear(opened, change))
      const [first, count] = await Promise.all([opened.newest(FIRST_COUNT), opened.count()])
      batch(() => {
        newest.value = first
        total.value = count
      })
      // The index of all readings may take a while: the newest come first.
      await afterPaint()
      await read(opened)
    })
    .catch(fail)

  return {
    newest,
    total,
    recordings,
    view,
    filter,
    vocabulary,
    failure,
    ready,
    selection,
    place: signal<number | null>(null),
    find(next) {
      filter.value = next
      log.then(read).catch(fail)
    },
    count: async (wanted) => (await (await log).find(wanted)).count,
    readVocabulary() {
      if (vocabulary.peek()) return
      log
        .then(async (opened) => {
          const words = await opened.vocabulary()
          if (!disposed) vocabulary.value = words
        })
        .catch(fail)
    },
    dispose() {
      disposed = true
      stop?.()
    },
  }
}
