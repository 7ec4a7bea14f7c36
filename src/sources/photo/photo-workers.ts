import type { Call } from '../worker-calls.ts'

let waiting: Worker | null = null

/**
 * Starts the worker of the next photo while the person is still choosing it: loading and compiling
 * it takes as long as decoding the photo.
 */
export function prepareForPhoto(): void {
  if (waiting !== null) return
  const worker = start()
  waiting = worker
  // Its answer comes to nobody: calls are numbered from 0.
  const call: Call = { id: -1, name: 'warmUp', input: null }
  worker.postMessage(call)
  // One that could not be loaded is not handed out; the next attempt says what is wrong.
  worker.onerror = () => {
    if (waiting === worker) waiting = null
  }
}

/** The worker that waits, or a new one. It is the caller's to end. */
export function takePhotoWorker(): Worker {
  const worker = waiting ?? start()
  waiting = null
  return worker
}

const start = () => new Worker(new URL('./photo.worker.ts', import.meta.url), { type: 'module' })
