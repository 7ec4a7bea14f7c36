import { type ReadonlySignal, signal } from '@preact/signals'
import type { PairResult } from '../../light/raw-pair/measure-pair.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { openPicture } from '../../sources/open-picture.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { measureRawPair } from '../../sources/sweep/measure-raw-pair.ts'
import { type PhotoSlot, saysFailure, showsPicture } from './photo-slot.ts'

/** The raw picture that belongs to the open photo, and what both say of its tone curve. */
export interface RawPairModel {
  /** Of its curve, also when the kit keeps it. */
  readonly id: string
  readonly rawFile: File
  /** Null while it is being found. */
  readonly result: ReadonlySignal<PairResult | null>
  /** The pictures can no longer be read. */
  readonly failed: ReadonlySignal<boolean>
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
    if (shot && showsPicture(slot.photo.peek(), shot))
      return createRawPairModel(shot, raw, rawFile, (error) =>
        saysFailure(slot, shot, error, rawFile.name),
      )
    raw.close()
  } catch (error) {
    if (shot && showsPicture(slot.photo.peek(), shot))
      slot.refusal.value = { error, name: rawFile.name }
  }
  return null
}

/**
 * @param raw is this model's to close
 * @param says tells the person of a failure; false where one of the pictures was put away
 */
function createRawPairModel(
  photo: Photo,
  raw: Photo,
  rawFile: File,
  says: (error: unknown) => boolean,
): RawPairModel {
  const result = signal<PairResult | null>(null)
  const failed = signal(false)
  measureRawPair(photo, raw)
    .then(
      (found) => {
        result.value = found
      },
      (error: unknown) => {
        failed.value = says(error)
      },
    )
    .finally(() => raw.close())
  return {
    id: newUuid(),
    rawFile,
    result,
    failed,
    dispose: () => raw.close(),
  }
}
