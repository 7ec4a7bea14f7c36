import { effect, type ReadonlySignal, signal } from '@preact/signals'
import type { Photo } from '../../sources/photo/photo.ts'
import { type Draft, type DraftPhoto, NOTES } from '../draft.ts'
import type { ReadingNotes } from './reading-draft.ts'

/** The open photo and what is said of it, in the draft that a reload brings back. */
export interface PhotoDraft {
  /** Another photo stands open. */
  begin(): void
  /** Stores it; from then on what is said of it is stored too. */
  store(photo: DraftPhoto): Promise<void>
  /** The draft holds all that it is to hold of it already. */
  follow(): void
  dispose(): void
}

export function createPhotoDraft(
  draft: Draft,
  open: ReadonlySignal<Photo | null>,
  notes: ReadonlySignal<ReadingNotes>,
): PhotoDraft {
  // Notes that are stored before their photo would go with the notes of the former one.
  const follows = signal(false)
  let begun = 0
  const stop = effect(() => {
    if (open.value && follows.value) void draft.store(NOTES, notes.value)
  })
  return {
    begin() {
      begun++
      follows.value = false
    },
    async store(photo) {
      const mine = begun
      await draft.storePhoto(photo)
      if (begun === mine) follows.value = true
    },
    follow() {
      follows.value = true
    },
    dispose: stop,
  }
}
