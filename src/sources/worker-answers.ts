import { lockForLife } from '../workers/worker-life.ts'
import { PhotoRefused } from './files/photo-refusal.ts'
import { VideoRefused } from './video/video-refused.ts'
import type { Answer, Call, Operations } from './worker-calls.ts'

/** The worker's side of WorkerCalls: one function for each operation. */
export type Answers<Ops extends Operations> = {
  readonly [Name in keyof Ops]: (
    input: Ops[Name][0],
    progress: (share: number) => void,
  ) => Promise<Ops[Name][1]>
}

interface Scope {
  postMessage(message: Answer): void
  onmessage: ((event: MessageEvent<Call>) => void) | null
}

/** Answers every call of the page; a refusal goes as a value, anything else as text. */
export function answerCalls<Ops extends Operations>(answers: Answers<Ops>): void {
  const scope = globalThis as unknown as Scope
  const life = lockForLife()
  const tellLock = () => life?.then((lock) => scope.postMessage({ lock }))
  void tellLock()
  scope.onmessage = async ({ data: { id, name, input } }) => {
    // Once more: while a worker is started ahead of its use nobody listens.
    if (id === 0) void tellLock()
    try {
      const answer = answers[name as keyof Ops]
      const progress = (share: number) => scope.postMessage({ id, progress: share })
      scope.postMessage({ id, output: await answer(input as never, progress) })
    } catch (error) {
      if (error instanceof PhotoRefused || error instanceof VideoRefused)
        scope.postMessage({ id, refusal: error.refusal })
      else scope.postMessage({ id, failure: String(error) })
    }
  }
}
