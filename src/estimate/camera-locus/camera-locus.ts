import data from './camera-locus.data.json'
import type { CameraLocus } from './types.ts'

/** What is known of cameras in general: written by camera-locus.derive.mjs. */
export const CAMERA_LOCUS: CameraLocus = data as CameraLocus
