import type { Triple } from '../numerics/matrix3.ts'
import type { GlowInput } from './types.ts'

/**
 * What stands in a reading's input where no photo was measured: a colour without scatter, from a
 * photo without fault, through nothing.
 */
export function idealGlow(
  mean: Triple,
): Pick<GlowInput, 'glow' | 'quality' | 'window' | 'takenAt'> {
  return {
    glow: {
      mean,
      covariance: [
        [0, 0, 0],
        [0, 0, 0],
        [0, 0, 0],
      ],
    },
    quality: {
      clippedShare: 0,
      floorShare: [0, 0, 0],
      backgroundShare: 0,
      glowWidthPixels: Number.MAX_SAFE_INTEGER,
      chromaSubsampled: false,
    },
    window: null,
    takenAt: null,
  }
}
