/** The keeper of the journal called across the border of its worker, one call after another. */
import { lockForLife, whenLifeEnds } from '../../workers/worker-life.ts'
import type { Keeper } from './keeper.ts'

interface Call {
  readonly id: number
  readonly name: 'open' | keyof Keeper
  readonly input: readonly unknown[]
}
type Answer =
  /** A lock that the worker holds for life: some end without a word. */
  | { readonly lock: string }
  | { readonly id: number; readonly output: unknown }
  | { readonly id: number; readonly failure: string }

interface Scope {
  postMessage(message: Answer): void
  onmessage: ((event: MessageEvent<Call>) => void) | null
}

/** The worker's side. Calls are answered in their order: what is appended first lies first. */
export function answerJournal(open: (name: string) => Promise<Keeper>): void {
  const scope = globalThis as unknown as Scope
  let keeper: Keeper | undefined
  let before: Promise<unknown> = Promise.resolve()
  const answer = async ({ id, name, input }: Call) => {
    try {
      if (name === 'open') {
        keeper = await open(String(input[0]))
        scope.postMessage({ id, output: null })
        return
      }
      if (keeper === undefined) throw new Error('the journal is not open')
      const work = keeper[name] as (...given: readonly unknown[]) => Promise<unknown>
      scope.postMessage({ id, output: await work(...input) })
    } catch (error) {
      scope.postMessage({ id, failure: String(error) })
    }
  }
  scope.onmessage = ({ data }) => {
    before = before.then(() => answer(data))
  }
  void lockForLife()?.then((lock) => scope.postMessage({ lock }))
}

/** The page's side; rejects where the browser has no private file system. */
export async function keeperInWorker(name: string): Promise<Keeper> {
  if (typeof Worker === 'undefined' || !('getDirectory' in (navigator.storage ?? {}))) {
    throw new Error('no private file system')
  }
  const worker = new Worker(new URL('./journal.worker.ts', import.meta.url), { type: 'module' })
  const waiting = new Map<number, { resolve(value: unknown): void; reject(error: unknown): void }>()
  let ended: Error | undefined
  let count = 0
  const end = (error: Error) => {
    ended = error
    worker.terminate()
    for (const one of waiting.values()) one.reject(error)
    waiting.clear()
  }
  worker.onerror = (event) => end(new Error(event.message || 'the journal’s worker failed'))
  worker.onmessage = ({ data }: MessageEvent<Answer>) => {
    if ('lock' in data) {
      whenLifeEnds(data.lock, () => end(new Error('the journal’s worker ended')))
      return
    }
    const one = waiting.get(data.id)
    waiting.delete(data.id)
    if ('failure' in data) one?.reject(new Error(data.failure))
    else one?.resolve(data.output)
  }
  const call = (name: Call['name'], ...input: readonly unknown[]) =>
    new Promise<never>((resolve, reject) => {
      if (ended !== undefined) return reject(ended)
      const id = count++
      waiting.set(id, { resolve: resolve as (value: unknown) => void, reject })
      worker.postMessage({ id, name, input } satisfies Call)
    })
  await call('open', name)
  return {
    look: () => call('look'),
    append: (...input) => call('append', ...input),
    replay: (...input) => call('replay', ...input),
    next: (...input) => call('next', ...input),
    beginSnapshot: (...input) => call('beginSnapshot', ...input),
    snapshotPart: (...input) => call('snapshotPart', ...input),
    finishSnapshot: (...input) => call('finishSnapshot', ...input),
    async close() {
      await call('close').catch(() => {})
      end(new Error('closed'))
    },
  }
}
