import { type ReadonlySignal, signal } from '@preact/signals'
import type { StorageStatus } from '../../log/schema/storage-status.ts'
import type { Log } from '../../log/schema/types.ts'

/** How safe the log is, followed. */
export interface StatusModel {
  /** Null until it is known, and where the log cannot be opened. */
  readonly status: ReadonlySignal<StorageStatus | null>
  /** Asks the browser not to clear the log by itself; what it answered. */
  askToKeep(): Promise<boolean>
  dismissMissing(): Promise<void>
  dispose(): void
}

/** Many changes in a row are one question. */
const SETTLED_MS = 300

/** @param after counting what no backup holds is slow in a long log: what is looked at comes first */
export function createStatusModel(log: Promise<Log>, after: Promise<void>): StatusModel {
  const status = signal<StorageStatus | null>(null)
  let stop: (() => void) | undefined
  let timer: ReturnType<typeof setTimeout> | undefined
  let disposed = false

  const read = async () => {
    const found = await (await log).status()
    if (!disposed) status.value = found
  }
  const readLater = () => {
    clearTimeout(timer)
    timer = setTimeout(() => void read().catch(() => undefined), SETTLED_MS)
  }
  // Without a log its own screen says why; there is nothing to tell of its safety.
  after
    .then(() => log)
    .then((opened) => {
      if (disposed) return
      stop = opened.subscribe(readLater)
      return read()
    })
    .catch(() => undefined)

  return {
    status,
    async askToKeep() {
      const granted = await (await log).requestPersistence()
      await read()
      return granted
    },
    async dismissMissing() {
      ;(await log).dismissMissing()
      await read()
    },
    dispose() {
      disposed = true
      clearTimeout(timer)
      stop?.()
    },
  }
}
