import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { LiveOperations } from './live-operations.ts'

/** What looks at whole frames beside the main thread. */
export interface LiveBench {
  readonly estimate: (
    input: LiveOperations['estimate'][0],
  ) => Promise<LiveOperations['estimate'][1]>
  readonly difference: (
    input: LiveOperations['difference'][0],
  ) => Promise<LiveOperations['difference'][1]>
  /** The bytes of the frame go over to the worker. */
  readonly look: (input: LiveOperations['look'][0]) => Promise<LiveOperations['look'][1]>
  readonly sweep: (input: LiveOperations['sweep'][0]) => Promise<LiveOperations['sweep'][1]>
  readonly check: (input: LiveOperations['check'][0]) => Promise<LiveOperations['check'][1]>
  close(): void
}

const start = () =>
  new Worker(new URL('./live.worker.ts', import.meta.url), { type: 'module' }) as WorkerPort

export function openLiveBench(): LiveBench {
  const calls = new WorkerCalls<LiveOperations>(
    start(),
    () => new Error('a look refuses by its result'),
    start,
  )
  return {
    estimate: (input) => calls.call('estimate', input),
    difference: (input) => calls.call('difference', input),
    look: (input) =>
      calls.call('look', input, { transfer: [input.pixels.bytes.buffer as ArrayBuffer] }),
    check: (input) => calls.call('check', input),
    sweep: (input) => calls.call('sweep', input),
    close: () => calls.close(),
  }
}
