/** A file read in a worker, so that the page stays responsive and can end it at any moment. */
import type { Work } from '../schema/types.ts'
import { contentOf, type ImportedContent } from './content.ts'
import { type Refusal, RefusedFile } from './refused.ts'

/** Records or pictures of one message: copied in a few milliseconds. */
const RECORDS_A_MESSAGE = 20
const BYTES_A_MESSAGE = 1_000_000

type Question = { readonly file: Blob } | 'next'
type Answer =
  | { readonly contents: readonly ImportedContent[]; readonly progress: readonly [number, number] }
  | { readonly refusal: Refusal }
  | { readonly failure: string }
  | 'end'

interface Scope {
  postMessage(message: Answer): void
  onmessage: ((event: MessageEvent<Question>) => void) | null
}

/** The worker's side: a message at each question. */
export function answerContent(): void {
  const scope = globalThis as unknown as Scope
  let contents: AsyncGenerator<ImportedContent> | undefined
  let progress: [number, number] = [0, 0]
  const next = async (): Promise<Answer> => {
    const some: ImportedContent[] = []
    let bytes = 0
    while (some.length < RECORDS_A_MESSAGE && bytes < BYTES_A_MESSAGE) {
      const found = await contents?.next()
      if (found === undefined || found.done) break
      some.push(found.value)
      if (found.value.kind === 'picture') bytes += found.value.bytes.length
    }
    return some.length > 0 ? { contents: some, progress } : 'end'
  }
  scope.onmessage = async ({ data }) => {
    if (data !== 'next') {
      contents = contentOf(data.file, {
        progress: (done, total) => {
          progress = [done, total]
        },
      })
    }
    try {
      scope.postMessage(await next())
    } catch (error) {
      scope.postMessage(
        error instanceof RefusedFile ? { refusal: error.refusal } : { failure: String(error) },
      )
    }
  }
}

/** The page's side: as {@link contentOf}, whose work is done in a worker where there are workers. */
export async function* contentInWorker(file: Blob, work: Work): AsyncGenerator<ImportedContent> {
  if (typeof Worker === 'undefined') {
    yield* contentOf(file, work)
    return
  }
  const { signal, progress } = work
  const worker = new Worker(new URL('./content.worker.ts', import.meta.url), { type: 'module' })
  const ask = (question: Question) =>
    new Promise<Answer>((resolve, reject) => {
      signal?.throwIfAborted()
      signal?.addEventListener('abort', () => reject(signal.reason), { once: true })
      worker.onerror = (event) => reject(new Error(event.message || 'the reading worker failed'))
      worker.onmessage = ({ data }: MessageEvent<Answer>) => resolve(data)
      worker.postMessage(question)
    })
  try {
    for (let answer = await ask({ file }); answer !== 'end'; answer = await ask('next')) {
      if ('refusal' in answer) throw new RefusedFile(answer.refusal)
      if ('failure' in answer) throw new Error(answer.failure)
      progress?.(...answer.progress)
      yield* answer.contents
    }
  } finally {
    worker.terminate()
  }
}
