import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import type { KeptCurve, KitModel } from '../kit/kit-model.ts'

/** The camera's stream is a path of its own: a curve of its photos says nothing about it. */
export const streamCurveId = ({ id }: Pick<LiveCamera, 'id'>): string => `${id} stream`

/** The tone curve that is undone: from a sweep just made, else one that the kit keeps. */
export interface LiveCurve {
  readonly swept: Signal<ToneCurve | null>
  readonly kept: ReadonlySignal<KeptCurve | null>
  readonly useKept: Signal<boolean>
  readonly inUse: ReadonlySignal<{ readonly id: string; readonly recovered: ToneCurve | null }>
}

export function createLiveCurve(
  camera: Pick<LiveCamera, 'id'>,
  { curves }: Pick<KitModel, 'curves'>,
): LiveCurve {
  const id = streamCurveId(camera)
  const swept = signal<ToneCurve | null>(null)
  const useKept = signal(true)
  // One that did not hold when it was checked last is not offered.
  const kept = computed(
    () =>
      curves.value.find(
        ({ curveId, curve, check }) =>
          curveId === id && curve.space === 'srgb' && (check?.agrees ?? true),
      ) ?? null,
  )
  const inUse = computed(() => {
    if (swept.value) return { id, recovered: swept.value }
    const from = useKept.value ? kept.value : null
    return { id: from?.id ?? id, recovered: from?.curve ?? null }
  })
  return { swept, kept, useKept, inUse }
}
