import type { HeatCurve } from '../../estimate/recording/heat-curve.ts'
import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { CurveFindings, CurveOperations } from './curve-operations.ts'

/** Reads a curve beside the page. Of the latter three only the latest question of each is answered. */
export interface CurveBench {
  open(curve: HeatCurve): Promise<CurveFindings>
  slopeAt(seconds: number): Promise<CurveOperations['slopeAt'][1]>
  part(part: CurveOperations['part'][0]): Promise<CurveOperations['part'][1]>
  times(levels: CurveOperations['times'][0]): Promise<CurveOperations['times'][1]>
  close(): void
}

export function openCurveBench(): CurveBench {
  const worker = new Worker(new URL('./curve.worker.ts', import.meta.url), { type: 'module' })
  const calls = new WorkerCalls<CurveOperations>(
    worker as WorkerPort,
    () => new Error('reading a curve refuses nothing'),
  )
  const latest = { latest: true }
  return {
    open: (curve) => calls.call('open', curve),
    slopeAt: (seconds) => calls.call('slopeAt', seconds, latest),
    part: (part) => calls.call('part', part, latest),
    times: (levels) => calls.call('times', levels, latest),
    close: () => calls.close(),
  }
}
