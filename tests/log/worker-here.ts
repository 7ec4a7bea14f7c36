import { vi } from 'vitest'

interface Port {
  onmessage: ((event: { data: unknown }) => void) | null
  onerror: ((event: { message: string }) => void) | null
}

/**
 * Workers whose side runs in this process: `begin` sets the message handler as the worker's file would.
 * Messages are copied, as between threads.
 *
 * @returns what has happened, and two ways to let the last one die
 */
export function workersHere(begin: () => void) {
  const { locks, free } = locksHere()
  vi.stubGlobal('navigator', { ...globalThis.navigator, locks })
  const workers: (Port & { ended: boolean })[] = []
  const seen = { messages: 0, ended: () => workers.filter(({ ended }) => ended).length }
  const scope = globalThis as unknown as Port & { postMessage(data: unknown): void }
  class WorkerHere {
    onmessage: Port['onmessage'] = null
    onerror: Port['onerror'] = null
    ended = false
    constructor() {
      workers.push(this)
      // Of the global object of a page that has no worker: to be put back after the test.
      vi.stubGlobal('onmessage', null)
      vi.stubGlobal('postMessage', (data: unknown) => {
        seen.messages++
        if (!this.ended) this.onmessage?.({ data: structuredClone(data) })
      })
      begin()
    }
    postMessage(data: unknown) {
      const copy = structuredClone(data)
      queueMicrotask(() => scope.onmessage?.({ data: copy }))
    }
    terminate() {
      this.ended = true
    }
  }
  vi.stubGlobal('Worker', WorkerHere)
  return {
    seen,
    die: (message: string) => workers.at(-1)?.onerror?.({ message }),
    /** As a browser short of memory ends it: no event comes, what it held is free. */
    dieSilently() {
      const last = workers.at(-1)
      if (last) last.ended = true
      free()
    },
  }
}

/** Locks of one process: whoever asks for one that is held waits until all are let go. */
function locksHere() {
  const held = new Set<string>()
  const waiting: (() => unknown)[] = []
  return {
    locks: {
      async request(name: string, callback: () => unknown) {
        if (held.has(name)) return new Promise((done) => waiting.push(() => done(callback())))
        held.add(name)
        return callback()
      },
    },
    free() {
      held.clear()
      for (const callback of waiting.splice(0)) callback()
    },
  }
}
