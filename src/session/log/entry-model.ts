import { type ReadonlySignal, signal } from '@preact/signals'
import { LogError } from '../../log/schema/errors.ts'
import type { Changes, Log, Reading, Recomputation, Stored } from '../../log/schema/types.ts'

/** One reading of the log, followed: what other tabs do to it is seen here. */
export interface EntryModel {
  /** Null while it is being read, undefined when it is not there. */
  readonly stored: ReadonlySignal<Stored | undefined | null>
  readonly picture: ReadonlySignal<string | null>
  /** What the log rejected with; null while all is well. */
  readonly failure: ReadonlySignal<unknown>
  /** Rejects when nothing was saved. */
  edit(changes: Changes): Promise<void>
  keepRecomputed(of: Pick<Recomputation, 'result' | 'reason' | 'inputs' | 'details'>): Promise<void>
  dispose(): void
}

export function createEntryModel(log: Promise<Log>, id: string): EntryModel {
  const stored = signal<Stored | undefined | null>(null)
  const picture = signal<string | null>(null)
  const failure = signal<unknown>(null)
  let stop: (() => void) | undefined
  let disposed = false

  const fail = (error: unknown) => {
    if (!disposed) failure.value = error
  }
  const read = async (opened: Log) => {
    const found = await opened.get(id)
    if (disposed) return
    stored.value = found
    if (found?.state === 'sound' && found.reading.picture && !picture.peek()) {
      const blob = await opened.picture(id)
      if (blob && !disposed) picture.value = URL.createObjectURL(blob)
    }
  }
  const show = (reading: Reading) => {
    if (!disposed) stored.value = { state: 'sound', reading }
  }
  log
    .then((opened) => {
      if (disposed) return
      stop = opened.subscribe((change) => {
        if (change.kind === 'closed') failure.value = new LogError({ code: change.code })
        const touched =
          change.kind === 'everything' || (change.kind === 'readings' && change.ids.includes(id))
        if (touched) read(opened).catch(fail)
      })
      return read(opened)
    })
    .catch(fail)

  return {
    stored,
    picture,
    failure,
    async edit(changes) {
      show(await (await log).edit(id, changes))
    },
    async keepRecomputed(of) {
      show(await (await log).recompute(id, of))
    },
    dispose() {
      disposed = true
      stop?.()
      const url = picture.peek()
      if (url) URL.revokeObjectURL(url)
    },
  }
}
