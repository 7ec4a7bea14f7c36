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
  scope.onmessage = async ({ data: { id, name, input } }) => {
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
