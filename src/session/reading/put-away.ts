import { type Draft, NOTES } from '../draft.ts'
import type { ReadingModel } from './reading-model-type.ts'

/** Brings back, in a model of the same kind, what was put away. */
export type BringBack = (model: ReadingModel) => Promise<void>

/**
 * Takes note of the open photo, or the sweep, before it is put away.
 *
 * @param model stays open: who ends it calls its `clear` or `dispose` afterwards
 * @param draft where the photo's notes are kept
 * @returns null where nothing is open
 */
export async function rememberOpen(model: ReadingModel, draft: Draft): Promise<BringBack | null> {
  const files = model.openFiles()
  const [first] = files
  if (!first || !model.glow.photo.peek()) return null
  if (model.sweep.peek()) return (into) => into.openSweep(files)
  const photo = { blob: first, name: first.name, truthK: model.simulatedTruthK.peek() }
  const notes = await draft.find(NOTES)
  return async (into) => {
    // The notes are stored again when the photo stands open.
    await draft.storePhoto(photo)
    await into.resume(photo, notes)
  }
}
