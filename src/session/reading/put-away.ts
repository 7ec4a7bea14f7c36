import { type Draft, NOTES } from '../draft.ts'
import type { ReadingModel } from './reading-model-type.ts'

/** Brings back, in a model of the same kind, what was put away. */
export type Reopen = (model: ReadingModel) => Promise<void>

/**
 * Takes note of the open photo with its raw file, or of the sweep, before it is put away.
 *
 * @param model stays open: who ends it calls its `clear` or `dispose` afterwards
 * @param draft where the photo's notes are kept
 * @returns null where nothing is open
 */
export async function rememberOpen(model: ReadingModel, draft: Draft): Promise<Reopen | null> {
  const files = model.openFiles()
  const [first] = files
  if (!first || !model.glow.photo.peek()) return null
  const isSweep = model.sweep.peek() !== null
  const raw = model.pair.peek()?.rawFile
  const truthK = model.simulatedTruthK.peek()
  const photo = { blob: first, name: first.name, truthK, ...(raw ? { raw } : {}) }
  const notes = await draft.find(NOTES)
  if (isSweep) return (into) => into.openSweep(files, notes)
  return async (into) => {
    // The notes are stored again when the photo stands open.
    await draft.storePhoto(photo)
    await into.resume(photo, notes)
  }
}
