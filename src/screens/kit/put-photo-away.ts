import { putCaptureAway } from '../../session/kit/capture-draft.ts'
import type { KitModel } from '../../session/kit/kit-model.ts'
import { say } from '../../ui/spoken.tsx'

/**
 * Puts the open photo away; a tap brings it back.
 *
 * @param keep whether the screen of its subject stays open
 */
export async function putPhotoAway(kit: KitModel, keep: boolean): Promise<void> {
  const bringBack = await putCaptureAway(kit, { keep })
  say('Photo put away.', bringBack ? { label: 'Undo', run: bringBack } : undefined)
}
