import { batch, computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import type { CurveInUse } from './photo-meaning.ts'
import { type PhotoSlot, saysFailure } from './photo-slot.ts'

/** What the open photo shows in its region, measured again whenever region or tone curve change. */
export interface Measuring {
  readonly measurement: ReadonlySignal<PhotoMeasurement | null>
  /** The tone curve of {@link measurement}, null for the nominal one: a figure rests on these two. */
  readonly decodedBy: ReadonlySignal<CurveInUse | null>
  /** Another curve is in use by now, and the photo is being measured by it. */
  readonly outdated: ReadonlySignal<boolean>
  /** The photo can no longer be measured. */
  readonly failed: ReadonlySignal<boolean>
  dispose(): void
}

export function createMeasuring(
  glow: PhotoSlot,
  curveInUse: ReadonlySignal<CurveInUse | null>,
): Measuring {
  const measurement = signal<PhotoMeasurement | null>(null)
  const decodedBy = signal<CurveInUse | null>(null)
  /** The picture that is measured: what a person says of a photo leaves its picture as it is. */
  let measured: Photo['measure'] | null = null
  const failed = signal(false)
  // The photo drops stale answers; an answer for a photo that was put away comes to nothing.
  const stop = effect(() => {
    const of = glow.photo.value
    if (measured !== (of?.measure ?? null)) {
      measured = of?.measure ?? null
      batch(() => {
        measurement.value = null
        decodedBy.value = null
      })
    }
    const where = glow.region.value
    const used = curveInUse.value
    failed.value = false
    if (!of || !where) return
    of.measure(where, used?.kept.curve ?? null).then(
      (found) => {
        if (glow.photo.peek() !== of) return
        batch(() => {
          measurement.value = found
          decodedBy.value = used
        })
        glow.showMarks()
      },
      (error: unknown) => {
        // The figure would speak of another region: it goes with the photo's worker.
        if (!saysFailure(glow, of, error)) return
        batch(() => {
          measurement.value = null
          failed.value = true
        })
      },
    )
  })
  return {
    measurement,
    decodedBy,
    failed,
    outdated: computed(() => measurement.value !== null && decodedBy.value !== curveInUse.value),
    dispose: stop,
  }
}
