import { batch, computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { PhotoSlot } from './photo-slot.ts'

/** What the open photo shows in its region, measured again whenever region or tone curve change. */
export interface Measuring {
  readonly measurement: ReadonlySignal<PhotoMeasurement | null>
  /** The measurement was decoded by another curve than the present one: no figure rests on both. */
  readonly outdated: ReadonlySignal<boolean>
  forget(): void
  dispose(): void
}

/** @param curve by which the photo is decoded; null for the nominal one */
export function createMeasuring(
  glow: PhotoSlot,
  curve: ReadonlySignal<ToneCurve | null>,
): Measuring {
  const measurement = signal<PhotoMeasurement | null>(null)
  const decodedBy = signal<ToneCurve | null>(null)
  // The photo drops stale answers; an answer for a photo that was put away comes to nothing.
  const stop = effect(() => {
    const of = glow.photo.value
    const where = glow.region.value
    const by = curve.value
    if (!of || !where) return
    of.measure(where, by).then(
      (found) => {
        if (glow.photo.peek() !== of) return
        batch(() => {
          measurement.value = found
          decodedBy.value = by
        })
        glow.showMarks()
      },
      (error: unknown) => {
        // A later call has taken its place, or the photo was put away.
        if ((error as Error).name === 'AbortError' || glow.photo.peek() !== of) return
        // The figure would speak of another region: it goes with the photo's worker.
        measurement.value = null
        glow.refusal.value = { error, name: 'The photo' }
      },
    )
  })
  return {
    measurement,
    outdated: computed(() => measurement.value !== null && decodedBy.value !== curve.value),
    forget() {
      measurement.value = null
    },
    dispose: stop,
  }
}
