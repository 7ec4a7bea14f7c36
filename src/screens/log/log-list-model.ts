import { type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { Filter, Log, Summary, View } from '../../log/types.ts'
import { logSentence } from '../../ui/words/log-errors.ts'

/** How many readings are shown before the index of all of them is asked for. */
const FIRST_COUNT = 30

export interface LogListModel {
  /** The newest, at once; null until they are there. */
  readonly newest: ReadonlySignal<readonly Summary[] | null>
  /** All that fit the filter, once they are found. */
  readonly view: ReadonlySignal<View | null>
  readonly filter: Signal<Filter>
  readonly failure: ReadonlySignal<string | null>
  find(filter: Filter): void
  dispose(): void
}

export function createLogListModel(log: Promise<Log>): LogListModel {
  const newest = signal<readonly Summary[] | null>(null)
  const view = signal<View | null>(null)
  const filter = signal<Filter>({})
  const failure = signal<string | null>(null)
  let opened: Log | undefined
  let stop: (() => void) | undefined
  let disposed = false
  let asked = 0

  const fail = (error: unknown) => {
    if (!disposed) failure.value = logSentence(error)
  }
  const read = async () => {
    if (!opened) return
    const mine = ++asked
    const found = await opened.find(filter.peek())
    // A later question has been asked meanwhile: its answer counts.
    if (mine === asked && !disposed) view.value = found
  }
  log
    .then(async (it) => {
      if (disposed) return
      opened = it
      stop = it.subscribe((change) => {
        if (change.kind === 'readings' || change.kind === 'everything') read().catch(fail)
        if (change.kind === 'closed')
          failure.value = 'Another tab has updated the log. Reload this page.'
      })
      newest.value = await it.newest(FIRST_COUNT)
      await read()
    })
    .catch(fail)

  return {
    newest,
    view,
    filter,
    failure,
    find(next) {
      filter.value = next
      read().catch(fail)
    },
    dispose() {
      disposed = true
      stop?.()
    },
  }
}
