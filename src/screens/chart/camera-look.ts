import type { CameraLook } from '../../colour/heat-view.ts'

/** What a typical camera makes of a glow, from the mean camera locus; null until it is there. */
export function cameraLook(): CameraLook | null {
  return null
}
