import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { MadeMap, MapOf, MapOperations } from './map-operations.ts'

export type { MadeMap, MapOf } from './map-operations.ts'

/** Makes maps, away from the screen; of several calls the latest counts. */
export interface MapBench {
  make(of: MapOf): Promise<MadeMap | null>
  close(): void
}

export function openMapBench(): MapBench {
  const worker = new Worker(new URL('./map.worker.ts', import.meta.url), { type: 'module' })
  const calls = new WorkerCalls<MapOperations>(
    worker as WorkerPort,
    () => new Error('maps are not refused'),
  )
  return {
    make: (of) => calls.call('map', of, { latest: true }),
    close: () => calls.close(),
  }
}
