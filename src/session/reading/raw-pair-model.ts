import { type ReadonlySignal, signal } from '@preact/signals'
import type { PairResult } from '../../light/raw-pair/measure-pair.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { measureRawPair } from '../../sources/sweep/measure-raw-pair.ts'

/** The raw picture that belongs to the open photo, and what both say of its tone curve. */
export interface RawPairModel {
  /** Of its curve, also when the kit keeps it. */
  readonly id: string
  readonly rawName: string
  /** Null while it is being found. */
  readonly result: ReadonlySignal<PairResult | null>
  dispose(): void
}

/** @param raw is this model's to close */
export function createRawPairModel(photo: Photo, raw: Photo, rawName: string): RawPairModel {
  const result = signal<PairResult | null>(null)
  measureRawPair(photo, raw)
    .then(
      (found) => {
        result.value = found
      },
      // One of the pictures was put away.
      () => undefined,
    )
    .finally(() => raw.close())
  return {
    id: newUuid(),
    rawName,
    result,
    dispose: () => raw.close(),
  }
}
