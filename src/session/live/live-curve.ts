import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { curveAge } from '../../light/exposure-sweep/curve-ageing.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import type { StreamCurve } from '../../sources/live/live-operations.ts'
import type { KitModel } from '../kit/kit-model.ts'
import type { StoredCurve } from '../kit/stored-items.ts'

/** The camera's stream is a path of its own: a curve of its photos says nothing about it. */
export const streamCurveId = ({ id }: Pick<LiveCamera, 'id'>): string => `${id} stream`

/** The curve of a sweep of the stream; the kit keeps it under the same id. */
export interface SweptCurve {
  readonly id: string
  readonly curve: ToneCurve
}

/** The tone curve that is undone: from a sweep just made, else one that the kit keeps. */
export interface LiveCurve {
  readonly swept: Signal<SweptCurve | null>
  readonly kept: ReadonlySignal<StoredCurve | null>
  readonly useStored: Signal<boolean>
  readonly inUse: ReadonlySignal<StreamCurve>
}

export function createLiveCurve(
  camera: Pick<LiveCamera, 'id'>,
  { curves }: Pick<KitModel, 'curves'>,
  now: () => Date = () => new Date(),
): LiveCurve {
  const id = streamCurveId(camera)
  const swept = signal<SweptCurve | null>(null)
  const useStored = signal(true)
  // One that did not hold when it was checked last is not offered.
  const kept = computed(
    () =>
      curves.value.find(
        ({ curveId, curve, check }) =>
          curveId === id && curve.space === 'srgb' && (check?.agrees ?? true),
      ) ?? null,
  )
  const inUse = computed<StreamCurve>(() => {
    if (swept.value) return { id: swept.value.id, recovered: swept.value.curve, movedBy: 0 }
    const from = useStored.value ? kept.value : null
    if (!from) return { id, recovered: null, movedBy: 0 }
    const { movedBy } = curveAge(from.foundAt, from.check?.at ?? null, now().toISOString())
    return { id: from.id, recovered: from.curve, movedBy }
  })
  return { swept, kept, useStored, inUse }
}
