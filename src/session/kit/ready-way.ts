/** Which steps make a camera ready, by whether its white balance can be locked. */
import type { CameraLock, StepId } from './camera-data.ts'

/** Locked, or one of the two ways that are left where it cannot be. */
export type ReadyWay = 'locked' | 'raw' | 'card in picture'

/**
 * Raw pixels are linear: nothing to sweep. A balance that is free for each picture leaves a known heat
 * without a hold on later ones.
 */
export const STEPS_OF_WAY: Readonly<Record<ReadyWay, readonly StepId[]>> = {
  locked: ['lock', 'card', 'sweep', 'heat'],
  raw: ['lock', 'card', 'heat'],
  'card in picture': ['lock', 'card', 'sweep'],
}

export const wayOf = (lock: CameraLock | null | undefined): ReadyWay =>
  lock?.kind === 'cannot be locked' ? lock.way : 'locked'
