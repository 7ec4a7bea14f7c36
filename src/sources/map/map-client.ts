import type { HeatScale } from '../../estimate/map/heat-scale.ts'
import type { MapChangeResult } from '../../estimate/map/map-change.ts'
import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { ChangeOf, MadeMap, MapOf, MapOperations, ScaleOf } from './map-operations.ts'

export type { MadeMap, MapOf } from './map-operations.ts'

/** Makes maps, away from the screen; of several calls the latest counts. */
export interface MapBench {
  make(of: MapOf): Promise<MadeMap | null>
  /** Two maps of one view subtracted. */
  change(of: ChangeOf): Promise<MapChangeResult>
  /** The scale alone; null where the colours cannot be put on one. */
  scale(of: ScaleOf): Promise<HeatScale | null>
  close(): void
}

const start = () =>
  new Worker(new URL('./map.worker.ts', import.meta.url), { type: 'module' }) as WorkerPort

export function openMapBench(): MapBench {
  const calls = new WorkerCalls<MapOperations>(
    start(),
    () => new Error('maps are not refused'),
    start,
  )
  return {
    make: (of) => calls.call('map', of, { latest: true }),
    change: (of) => calls.call('change', of),
    scale: (of) => calls.call('scale', of, { latest: true }),
    close: () => calls.close(),
  }
}
