/** The prediction for a camera as it was computed last: the first screen shows it at once. */

import { inSlices } from '../in-slices.ts'
import type { CameraPrediction } from './camera-prediction.ts'
import type { CameraProfile } from './camera-profile.ts'

/** The number rises when the prediction comes to hold something else. */
const NAME = 'glowbook.camera-worth-3'

/** What the figures depend on; the day, because pieces age. */
const keyOf = ({ device, stored, greys, heats, curves }: CameraProfile, now: Date) =>
  JSON.stringify([
    device,
    stored?.data.lock ?? null,
    stored?.data.usual?.materialId ?? null,
    stored?.data.skipped ?? [],
    stored?.data.leakTests ?? [],
    greys.map(({ id }) => id),
    heats.map(({ item, off }) => [item.id, off]),
    curves.map(({ id, check }) => [id, check?.at ?? null]),
    now.toISOString().slice(0, 10),
  ])

function stored(key: string): CameraPrediction | null {
  try {
    const found = JSON.parse(localStorage.getItem(NAME) ?? 'null')
    return found?.key === key ? (found.worth as CameraPrediction) : null
  } catch {
    return null
  }
}

/**
 * The prediction for a camera: stored, or computed with pauses; its code is loaded only then.
 *
 * @returns undefined when it was stopped
 */
export async function predictionOf(
  profile: CameraProfile,
  now: Date,
  signal: AbortSignal,
): Promise<CameraPrediction | undefined> {
  const key = keyOf(profile, now)
  const known = stored(key)
  if (known) return known
  const { predictCamera } = await import('./camera-prediction.ts')
  const prediction = await inSlices(predictCamera(profile, now), signal)
  try {
    if (prediction) localStorage.setItem(NAME, JSON.stringify({ key, worth: prediction }))
  } catch {
    // Refused storage: worked out again next time.
  }
  return prediction
}
