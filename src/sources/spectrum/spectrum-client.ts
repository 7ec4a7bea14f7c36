import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { SpectrumOperations } from './spectrum-operations.ts'

type Ask<Name extends keyof SpectrumOperations> = (
  input: SpectrumOperations[Name][0],
) => Promise<SpectrumOperations[Name][1]>

/** What spectra are read and fitted by. Of responses and temperatures only the latest counts. */
export interface SpectrumBench {
  readonly read: Ask<'read'>
  readonly respond: Ask<'respond'>
  readonly measure: Ask<'measure'>
  close(): void
}

const start = () =>
  new Worker(new URL('./spectrum.worker.ts', import.meta.url), { type: 'module' }) as WorkerPort

/** A worker of its own; it warms up while the person chooses a file. */
export function openSpectrumBench(): SpectrumBench {
  const calls = new WorkerCalls<SpectrumOperations>(
    start(),
    () => new Error('spectra are refused by their results'),
    start,
  )
  return {
    read: (input) => calls.call('read', input),
    respond: (input) => calls.call('respond', input, { latest: true }),
    measure: (input) => calls.call('measure', input, { latest: true }),
    close: () => calls.close(),
  }
}
