/** The worth of a camera as it was worked out last: the first screen shows it at once. */

import { inSlices } from '../in-slices.ts'
import type { CameraProfile } from './camera-profile.ts'
import type { CameraWorth } from './camera-worth.ts'

/** Raised when the worth comes to hold more. */
const NAME = 'glowbook.camera-worth-2'

/** What the figures depend on; the day, because pieces age. */
const keyOf = ({ device, stored, greys, heats, curves }: CameraProfile, now: Date) =>
  JSON.stringify([
    device,
    stored?.data.lock ?? null,
    stored?.data.usual?.materialId ?? null,
    stored?.data.skipped ?? [],
    greys.map(({ id }) => id),
    heats.map(({ item, off }) => [item.id, off]),
    curves.map(({ id, check }) => [id, check?.at ?? null]),
    now.toISOString().slice(0, 10),
  ])

function stored(key: string): CameraWorth | null {
  try {
    const kept = JSON.parse(localStorage.getItem(NAME) ?? 'null')
    return kept?.key === key ? (kept.worth as CameraWorth) : null
  } catch {
    return null
  }
}

/**
 * The worth of a camera: stored, or worked out with pauses; its code is loaded only then.
 *
 * @returns undefined when it was stopped
 */
export async function worthOf(
  profile: CameraProfile,
  now: Date,
  signal: AbortSignal,
): Promise<CameraWorth | undefined> {
  const key = keyOf(profile, now)
  const known = stored(key)
  if (known) return known
  const { cameraWorth } = await import('./camera-worth.ts')
  const worth = await inSlices(cameraWorth(profile, now), signal)
  try {
    if (worth) localStorage.setItem(NAME, JSON.stringify({ key, worth }))
  } catch {
    // Refused storage: worked out again next time.
  }
  return worth
}
