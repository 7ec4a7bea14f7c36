import { putCaptureAway } from '../../session/kit/capture-draft.ts'
import type { KitModel } from '../../session/kit/kit-model.ts'
import { say } from '../../ui/spoken.tsx'

/**
 * Puts the photo in hand away; it comes back at a tap.
 *
 * @param keep whether the screen of its subject stays open
 */
export async function putPhotoAway(kit: KitModel, keep: boolean): Promise<void> {
  const bringBack = await putCaptureAway(kit, { keep })
  say('Photo put away.', bringBack ? { label: 'Undo', run: bringBack } : undefined)
}
