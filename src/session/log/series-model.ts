import { type ReadonlySignal, signal } from '@preact/signals'
import type { Log, Summary } from '../../log/schema/types.ts'
import type { Notice } from '../../ui/words/estimate.ts'
import { noticeFromLogError, noticeFromLogFailure } from '../../ui/words/log-errors.ts'

/** All readings of one object, newest first, followed. */
export interface SeriesModel {
  /** Null until they are found. */
  readonly summaries: ReadonlySignal<readonly Summary[] | null>
  readonly failure: ReadonlySignal<Notice | null>
  dispose(): void
}

export function createSeriesModel(log: Promise<Log>, object: string): SeriesModel {
  const summaries = signal<readonly Summary[] | null>(null)
  const failure = signal<Notice | null>(null)
  let stop: (() => void) | undefined
  let disposed = false

  const fail = (error: unknown) => {
    if (!disposed) failure.value = noticeFromLogError(error)
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
          if (change.kind === 'closed') failure.value = noticeFromLogFailure({ code: change.code })
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
