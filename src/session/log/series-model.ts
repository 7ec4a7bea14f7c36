import { type ReadonlySignal, signal } from '@preact/signals'
import { LogError } from '../../log/schema/errors.ts'
import type { Log, Summary } from '../../log/schema/types.ts'

/** All readings of one object, newest first, followed. */
export interface SeriesModel {
  /** Null until they are found. */
  readonly summaries: ReadonlySignal<readonly Summary[] | null>
  /** What the log rejected with; null while all is well. */
  readonly failure: ReadonlySignal<unknown>
  dispose(): void
}

export function createSeriesModel(log: Promise<Log>, object: string): SeriesModel {
  const summaries = signal<readonly Summary[] | null>(null)
  const failure = signal<unknown>(null)
  let stop: (() => void) | undefined
  let disposed = false

  const fail = (error: unknown) => {
    if (!disposed) failure.value = error
  }
  const read = async (opened: Log) => {
    const view = await opened.find({ object })
    if (!disposed) summaries.value = view.summaries()
  }
  if (object !== '') {
    log
      .then((opened) => {
        if (disposed) return
        stop = opened.subscribe((change) => {
          if (change.kind === 'closed') failure.value = new LogError({ code: change.code })
          if (change.kind === 'readings' || change.kind === 'everything') read(opened).catch(fail)
        })
        return read(opened)
      })
      .catch(fail)
  }
  return {
    summaries,
    failure,
    dispose() {
      disposed = true
      stop?.()
    },
  }
}
