import type { Triple } from '../../numerics/matrix3.ts'

/**
 * Linear level, 0..1, of the brightest channel below which nothing of the room is made out: L* 15 of a
 * screen's white (CIE 1976). Common practice.
 */
const DARK_LEVEL = 0.02

/** @param background linear mean of what lies around the glow, 0..1 */
export const isDarkPicture = (background: Triple): boolean => Math.max(...background) < DARK_LEVEL
