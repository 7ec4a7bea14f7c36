import type { Readings } from '../../estimate/recording/heat-curve.ts'
import type { Plateau } from '../../estimate/recording/plateaus.ts'
import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { CurveOperations } from './curve-operations.ts'

/** Reads curves beside the page. */
export interface CurveBench {
  plateaus(readings: Readings): Promise<Plateau[]>
  close(): void
}

export function openCurveBench(): CurveBench {
  const worker = new Worker(new URL('./curve.worker.ts', import.meta.url), { type: 'module' })
  const calls = new WorkerCalls<CurveOperations>(
    worker as WorkerPort,
    () => new Error('reading a curve refuses nothing'),
  )
  return {
    plateaus: (readings) => calls.call('plateaus', readings),
    close: () => calls.close(),
  }
}
