import { signal } from '@preact/signals'
import { expect, test, vi } from 'vitest'
import { NO_DRAFT, NOTES } from '../../../src/session/draft.ts'
import { createPhotoDraft } from '../../../src/session/reading/photo-draft.ts'
import type { ReadingNotes } from '../../../src/session/reading/reading-draft.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'

const said = (object: string) => ({ object }) as ReadingNotes
const file = (name: string) => ({ blob: new Blob([name]), name, truthK: null })

/** A draft of which the photos are stored when told to. */
function heldDraft() {
  const waiting: (() => void)[] = []
  const store = vi.fn(async () => undefined)
  const storePhoto = () => new Promise<void>((resolve) => waiting.push(resolve))
  const photoIsStored = async () => {
    waiting.shift()?.()
    await new Promise((resolve) => setTimeout(resolve))
  }
  return { draft: { ...NO_DRAFT, store, storePhoto }, store, photoIsStored }
}

test('what is said of a photo is stored behind it, and never with another one', async () => {
  const { draft, store, photoIsStored } = heldDraft()
  const open = signal<Photo | null>({} as Photo)
  const notes = signal(said(''))
  const photoDraft = createPhotoDraft(draft, open, notes)
  photoDraft.begin()
  void photoDraft.store(file('one'))
  notes.value = said('bar')
  expect(store).not.toHaveBeenCalled()
  await photoIsStored()
  expect(store).toHaveBeenLastCalledWith(NOTES, said('bar'))

  // A third photo is opened while the second is still being stored.
  photoDraft.begin()
  void photoDraft.store(file('two'))
  photoDraft.begin()
  void photoDraft.store(file('three'))
  store.mockClear()
  await photoIsStored()
  notes.value = said('third bar')
  expect(store).not.toHaveBeenCalled()
  await photoIsStored()
  expect(store).toHaveBeenLastCalledWith(NOTES, said('third bar'))

  // Put away, nothing more is stored.
  store.mockClear()
  open.value = null
  notes.value = said('gone')
  expect(store).not.toHaveBeenCalled()
  photoDraft.dispose()
})
