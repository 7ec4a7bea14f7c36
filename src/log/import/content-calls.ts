/** A file read in a worker, so that the page stays responsive and can end it at any moment. */

import { lockForLife, whenLifeEnds } from '../../workers/worker-life.ts'
import type { RecordingColumns } from '../recordings/columns.ts'
import { columnsOfCsv } from '../recordings/recording-csv.ts'
import { recordingsInZip } from '../recordings/recording-files.ts'
import type { StoredRecording } from '../recordings/types.ts'
import type { Work } from '../schema/types.ts'
import { contentOf, type ImportedContent } from './content.ts'
import { type Refusal, RefusedFile, tooLarge, wrongContent } from './refused.ts'

/** Records or pictures of one message: copied in a few milliseconds. */
const RECORDS_A_MESSAGE = 20
const BYTES_A_MESSAGE = 1_000_000

/** A table of the most readings has a third of it. */
const TABLE_BYTES_MOST = 16_000_000

/** What may be asked of a file, in the order in which it lies there. */
const READERS = {
  log: (file: Blob, work: Work): AsyncGenerator<ImportedContent> => contentOf(file, work),
  recordings: (file: Blob, { signal }: Work): AsyncGenerator<StoredRecording> =>
    recordingsInZip(file, signal),
  table: async function* (file: Blob): AsyncGenerator<{ readonly columns: RecordingColumns }> {
    if (file.size > TABLE_BYTES_MOST) throw tooLarge(`${Math.ceil(file.size / 1e6)} MB`)
    yield { columns: columnsOfCsv(await file.text()) }
  },
}
type Kind = keyof typeof READERS
type Read = ImportedContent | StoredRecording | { readonly columns: RecordingColumns }

type Question = { readonly file: Blob; readonly kind: Kind } | 'next'
type Answer =
  | { readonly contents: readonly Read[]; readonly progress: readonly [number, number] }
  | { readonly refusal: Refusal }
  | { readonly failure: string }
  | 'end'

interface Scope {
  postMessage(message: Answer | { readonly lock: string }): void
  onmessage: ((event: MessageEvent<Question>) => void) | null
}

/** The worker's side: a message at each question. */
export function answerContent(): void {
  const scope = globalThis as unknown as Scope
  let contents: AsyncGenerator<Read> | undefined
  let progress: [number, number] = [0, 0]
  const next = async (): Promise<Answer> => {
    const some: Read[] = []
    let bytes = 0
    while (some.length < RECORDS_A_MESSAGE && bytes < BYTES_A_MESSAGE) {
      const found = await contents?.next()
      if (found === undefined || found.done) break
      some.push(found.value)
      bytes += bytesOf(found.value)
    }
    return some.length > 0 ? { contents: some, progress } : 'end'
  }
  void lockForLife()?.then((lock) => scope.postMessage({ lock }))
  scope.onmessage = async ({ data }) => {
    if (data !== 'next') {
      contents = READERS[data.kind](data.file, {
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

function bytesOf(read: Read): number {
  if ('columns' in read) return 25 * read.columns.ms.length
  return read.kind === 'picture' ? read.bytes.length : 0
}

/** As {@link contentOf}, whose work is done in a worker where there are workers. */
export const contentInWorker = (file: Blob, work: Work) =>
  inWorker<ImportedContent>('log', file, work)

/** As {@link recordingsInZip}, likewise. */
export const recordingsInWorker = (file: Blob, work: Work = {}) =>
  inWorker<StoredRecording>('recordings', file, work)

/** A bare table of readings, likewise. @throws RefusedFile */
export async function tableInWorker(file: Blob): Promise<RecordingColumns> {
  for await (const { columns } of inWorker<{ columns: RecordingColumns }>('table', file, {}))
    return columns
  throw wrongContent('no table')
}

/** The page's side. */
async function* inWorker<T extends Read>(kind: Kind, file: Blob, work: Work): AsyncGenerator<T> {
  if (typeof Worker === 'undefined') {
    yield* READERS[kind](file, work) as AsyncGenerator<T>
    return
  }
  const { signal, progress } = work
  signal?.throwIfAborted()
  const worker = new Worker(new URL('./content.worker.ts', import.meta.url), { type: 'module' })
  let ended: Error | null = null
  let open: { resolve(answer: Answer): void; reject(reason: unknown): void } | null = null
  /** Also between two questions, while what was read is being written. */
  const end = (why: string) => {
    ended ??= new Error(why)
    open?.reject(ended)
  }
  worker.onerror = (event) => end(event.message || 'the reading worker failed')
  worker.onmessage = ({ data }: MessageEvent<Answer | { readonly lock: string }>) => {
    if (typeof data === 'object' && 'lock' in data)
      whenLifeEnds(data.lock, () => end('the reading worker ended'))
    else open?.resolve(data)
  }
  const ask = (question: Question) =>
    new Promise<Answer>((resolve, reject) => {
      signal?.throwIfAborted()
      if (ended) throw ended
      signal?.addEventListener('abort', () => reject(signal.reason), { once: true })
      open = { resolve, reject }
      worker.postMessage(question)
    })
  try {
    for (let answer = await ask({ file, kind }); answer !== 'end'; answer = await ask('next')) {
      if ('refusal' in answer) throw new RefusedFile(answer.refusal)
      if ('failure' in answer) throw new Error(answer.failure)
      progress?.(...answer.progress)
      yield* answer.contents as readonly T[]
    }
  } finally {
    worker.terminate()
  }
}
