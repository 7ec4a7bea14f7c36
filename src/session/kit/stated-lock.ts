/** What was said of a camera's lock before any photo had named the camera. */
import type { BalanceState } from '../../estimate/types.ts'
import type { Log } from '../../log/schema/types.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import { draftOf } from '../draft.ts'
import { changeCamera, rememberLock } from './camera-store.ts'
import type { ReadyWay } from './ready-way.ts'

export type StatedLock =
  | { readonly kind: 'locked'; readonly state: BalanceState }
  | { readonly kind: 'cannot be locked'; readonly way: Exclude<ReadyWay, 'locked'> }

const draft = draftOf('ready-in-hand')
const NAME = 'stated lock'

export const storeStatedLock = (stated: StatedLock): Promise<void> => draft.store(NAME, stated)
export const forgetStatedLock = (): Promise<void> => draft.discard()

export async function statedLock(): Promise<StatedLock | null> {
  // Written by this app; anything else is not taken up.
  const found = (await draft.find(NAME)) as Partial<StatedLock> | undefined
  if (found?.kind === 'locked' && typeof found.state?.kind === 'string') return found as StatedLock
  if (
    found?.kind === 'cannot be locked' &&
    (found.way === 'raw' || found.way === 'card in picture')
  )
    return found as StatedLock
  return null
}

/**
 * Keeps it for the camera that a photo names.
 *
 * @throws LogError
 */
export async function keepStatedLock(
  log: Log,
  device: string,
  facts: PhotoFacts,
  stated: StatedLock,
  now: Date,
): Promise<void> {
  if (stated.kind === 'locked') return rememberLock(log, device, facts, stated.state, now)
  const since = now.toISOString()
  await changeCamera(log, device, { lock: { ...stated, since }, usedAt: since }, now)
}
