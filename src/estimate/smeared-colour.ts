import { isThin } from '../light/thin-glow.ts'
import { isRendered } from './glow-problem.ts'
import type { GlowInput } from './types.ts'

/**
 * A glow narrower than the file's colour resolution: its colour is mixed with what lies beside it,
 * which is dark and says nothing. Standard uncertainty of ln(G/R), from bars of known width.
 */
const THIN_GLOW = 0.2
/**
 * Ordinary photos smooth colour against noise and sharpen edges, by a few pixels that nobody states: of
 * a bar 8 pixels wide a chroma blur of 2.5 pixels takes 0.37 of ln(G/R), of wider ones less by the square
 * (see the tests). Standard uncertainty of ln(G/R).
 */
const SMOOTHED = { at: 8, lnRatio: 0.25, most: 0.5 }

/** Standard uncertainty of ln(G/R) by what the surroundings mix into a narrow glow. */
export function thinSmear(input: GlowInput): number {
  const { glowWidthPixels: width, chromaSubsampled } = input.quality
  const stored = isThin(width, chromaSubsampled) ? THIN_GLOW : 0
  const smoothed = isRendered(input) ? SMOOTHED.lnRatio * (SMOOTHED.at / width) ** 2 : 0
  return Math.max(stored, Math.min(smoothed, SMOOTHED.most))
}

/** The same with what the halo of a sharpened edge adds. */
export const smearedBy = (input: GlowInput): number =>
  Math.hypot(thinSmear(input), input.quality.haloLnRatio ?? 0)
