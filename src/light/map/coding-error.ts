import { encodeTransfer } from '../../colour/rgb-spaces.ts'
import type { CodingSteps } from '../exposure-sweep/frame-levels.ts'

/** ITU-T T.871: R = Y + 1.402 Cr, G = Y - 0.344 Cb - 0.714 Cr. */
export const RED_OF_CR = 1.402
export const GREEN_OF_CB = -0.344136
export const GREEN_OF_CR = -0.714136
/** A DC term is eight times the mean of its block (T.81, A.3.3), codes go to 255. */
const CODES = 8 * 255
/** Relative width over which the slope of the transfer function is taken. */
const APART = 1e-3

/** d ln(light) / d code, codes 0..1. */
export const steepness = (light: number) =>
  (2 * APART) / (encodeTransfer(light * (1 + APART)) - encodeTransfer(light * (1 - APART)))

/**
 * How far ln(G/R) of two blocks of one colour may lie apart because each was coded in whole steps: one
 * step in each of Y, Cb and Cr, at worst all to one side. Neighbouring blocks mostly lie on the same
 * side, so that whole groups of them move together.
 *
 * @param red linear, 1 = top code, as is `green`; background in it, both above 0
 * @param steps of the file
 */
export function codingError(red: number, green: number, { luma, chroma }: CodingSteps): number {
  const [r, g] = [steepness(red), steepness(green)]
  const chromaError = Math.abs(GREEN_OF_CB * g) + Math.abs(GREEN_OF_CR * g - RED_OF_CR * r)
  return (luma * Math.abs(g - r) + chroma * chromaError) / CODES
}
