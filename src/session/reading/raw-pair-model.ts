import { type ReadonlySignal, signal } from '@preact/signals'
import type { PairResult } from '../../light/raw-pair/measure-pair.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { openPicture } from '../../sources/open-picture.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { measureRawPair } from '../../sources/sweep/measure-raw-pair.ts'
import type { PhotoSlot } from './photo-slot.ts'

/** The raw picture that belongs to the open photo, and what both say of its tone curve. */
export interface RawPairModel {
  /** Of its curve, also when the kit keeps it. */
  readonly id: string
  readonly rawFile: File
  /** Null while it is being found. */
  readonly result: ReadonlySignal<PairResult | null>
  dispose(): void
}

/**
 * The raw picture of the shot that is open.
 *
 * @returns null where it was refused, which the slot says, or the shot was put away meanwhile
 */
export async function openRawPair(slot: PhotoSlot, rawFile: File): Promise<RawPairModel | null> {
  const shot = slot.photo.peek()
  try {
    const raw = await openPicture(rawFile)
    if (shot && slot.photo.peek() === shot) return createRawPairModel(shot, raw, rawFile)
    raw.close()
  } catch (error) {
    if (slot.photo.peek() === shot) slot.refusal.value = { error, name: rawFile.name }
  }
  return null
}

/** @param raw is this model's to close */
function createRawPairModel(photo: Photo, raw: Photo, rawFile: File): RawPairModel {
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
    rawFile,
    result,
    dispose: () => raw.close(),
  }
}
