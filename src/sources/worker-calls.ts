import { whenLifeEnds } from '../workers/worker-life.ts'

/** A question to a worker and its answer, matched by number. */
export interface Call {
  readonly id: number
  readonly name: string
  readonly input: unknown
}
export type Answer =
  | { readonly id: number; readonly output: unknown }
  | { readonly id: number; readonly refusal: unknown }
  | { readonly id: number; readonly failure: string }
  | { readonly id: number; readonly progress: number }
  /** A lock that the worker holds for life: some end without a word. */
  | { readonly lock: string }

/** What is needed of a Worker. */
export interface WorkerPort {
  postMessage(message: unknown, transfer?: Transferable[]): void
  terminate(): void
  onmessage: ((event: MessageEvent<Answer>) => void) | null
  onerror: ((event: ErrorEvent) => void) | null
}

/** Operations of a worker: name -> [input, output]. */
export type Operations = Record<string, readonly [unknown, unknown]>

interface Waiting {
  readonly call: Call
  readonly transfer: Transferable[]
  readonly resolve: (value: unknown) => void
  readonly reject: (reason: unknown) => void
  readonly onProgress: ((share: number) => void) | undefined
}

const superseded = () => new DOMException('A later call took its place.', 'AbortError')

/**
 * Calls to a worker. Of calls that supersede each other (a region that is being dragged) at most one
 * is in the worker and one waits: no backlog builds up, and a late answer to an earlier call is
 * dropped.
 */
export class WorkerCalls<Ops extends Operations> {
  #port: WorkerPort
  /** Undefined also once it was closed. */
  #again: (() => WorkerPort) | undefined
  readonly #refuse: (refusal: never) => Error
  readonly #sent = new Map<number, Waiting>()
  /** By operation: the call in the worker, and the latest one that waits for its turn. */
  readonly #busy = new Map<string, number>()
  readonly #next = new Map<string, Waiting>()
  #count = 0
  /** Why it has ended: what is asked afterwards is refused for the same reason. */
  #ended: { readonly reason: unknown } | null = null

  /**
   * @param refuse makes an exception of a refusal that the worker answers
   * @param again another worker in place of one that has failed, for those that keep nothing between calls
   */
  constructor(port: WorkerPort, refuse: (refusal: never) => Error, again?: () => WorkerPort) {
    this.#port = port
    this.#refuse = refuse
    this.#again = again
    this.#listen()
  }

  #listen(): void {
    const port = this.#port
    port.onmessage = ({ data }) => this.#take(data)
    port.onerror = (event) => this.#fail(port, event.message || 'The worker failed.')
  }

  #fail(port: WorkerPort, why: string): void {
    if (port !== this.#port || this.#ended) return
    this.#end(new Error(why))
  }

  call<Name extends keyof Ops & string>(
    name: Name,
    input: Ops[Name][0],
    options: {
      readonly latest?: boolean
      readonly onProgress?: (share: number) => void
      /** Buffers of the input that go over instead of being copied: large ones. */
      readonly transfer?: Transferable[]
    } = {},
  ): Promise<Ops[Name][1]> {
    if (this.#ended && this.#again) {
      // Only now: a file that is not there would be asked for without end.
      this.#port = this.#again()
      this.#ended = null
      this.#listen()
    }
    if (this.#ended) return Promise.reject(this.#ended.reason)
    return new Promise<unknown>((resolve, reject) => {
      const call = { id: this.#count++, name, input }
      const { onProgress, transfer = [] } = options
      const waiting = { call, transfer, resolve, reject, onProgress }
      if (!options.latest) return this.#send(waiting)
      const before = this.#busy.get(name)
      if (before === undefined) {
        this.#busy.set(name, call.id)
        this.#send(waiting)
        return
      }
      this.#sent.get(before)?.reject(superseded())
      this.#next.get(name)?.reject(superseded())
      this.#next.set(name, waiting)
    })
  }

  /** Ends the worker; what waits rejects with an AbortError. */
  close(reason: unknown = superseded()): void {
    this.#again = undefined
    this.#end(reason)
  }

  #send(waiting: Waiting): void {
    this.#sent.set(waiting.call.id, waiting)
    this.#port.postMessage(waiting.call, waiting.transfer)
  }

  #take(answer: Answer): void {
    if ('lock' in answer) {
      const port = this.#port
      whenLifeEnds(answer.lock, () => this.#fail(port, 'The worker has ended.'))
      return
    }
    const waiting = this.#sent.get(answer.id)
    if (waiting === undefined) return
    if ('progress' in answer) {
      waiting.onProgress?.(answer.progress)
      return
    }
    this.#sent.delete(answer.id)
    // A promise that was superseded has been rejected: settling it again is without effect.
    if ('output' in answer) waiting.resolve(answer.output)
    else if ('refusal' in answer) waiting.reject(this.#refuse(answer.refusal as never))
    else waiting.reject(new Error(answer.failure))
    const { name } = waiting.call
    if (this.#busy.get(name) !== answer.id) return
    const next = this.#next.get(name)
    this.#next.delete(name)
    if (next === undefined) {
      this.#busy.delete(name)
    } else {
      this.#busy.set(name, next.call.id)
      this.#send(next)
    }
  }

  #end(reason: unknown): void {
    if (this.#ended) return
    this.#ended = { reason }
    this.#port.onmessage = null
    this.#port.onerror = null
    this.#port.terminate()
    for (const waiting of [...this.#sent.values(), ...this.#next.values()]) waiting.reject(reason)
    this.#sent.clear()
    this.#next.clear()
    this.#busy.clear()
  }
}
