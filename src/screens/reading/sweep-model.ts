import { effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { SweepResult } from '../../light/exposure-sweep/sweep-result.ts'
import type { Region } from '../../light/image.ts'
import type { Sweep } from '../../sources/sweep/open-sweep.ts'

export interface SweepModel {
  readonly sweep: Sweep
  /** Exposure of each photo in stops, relative to the first; null where nobody has said it. */
  readonly stops: Signal<readonly (number | null)[]>
  readonly result: ReadonlySignal<SweepResult | null>
  /** 0..1 while photos are being read, null when the answer is there or exposures are missing. */
  readonly progress: ReadonlySignal<number | null>
  dispose(): void
}

/** Stops from the camera's own record, relative to the first photo that has one. */
function statedStops(sweep: Sweep): (number | null)[] {
  const first = sweep.photos.find(({ exposure }) => exposure !== null)?.exposure
  return sweep.photos.map(({ exposure }) =>
    exposure === null || !first ? null : Math.round(100 * Math.log2(exposure / first)) / 100,
  )
}

/** Follows the region and the exposures, and keeps the sweep's answer. */
export function createSweepModel(sweep: Sweep, region: ReadonlySignal<Region | null>): SweepModel {
  const stops = signal<readonly (number | null)[]>(statedStops(sweep))
  const result = signal<SweepResult | null>(null)
  const progress = signal<number | null>(null)
  const stop = effect(() => {
    const where = region.value
    const known = stops.value.flatMap((value) => value ?? [])
    result.value = null
    if (!where || known.length < stops.value.length) return
    progress.value = 0
    sweep
      .measure(
        where,
        known.map((value) => 2 ** value),
        (share) => {
          progress.value = share
        },
      )
      .then(
        (found) => {
          result.value = found
          progress.value = null
        },
        () => undefined,
      )
  })
  return {
    sweep,
    stops,
    result,
    progress,
    dispose() {
      stop()
      sweep.close()
    },
  }
}
