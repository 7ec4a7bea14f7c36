import { referenceStatus } from './glow-problem.ts'
import type { GlowInput } from './types.ts'

/** Red of a single photo beside that of a known heat on the same unknown tone curve. */
export interface LevelMatch {
  readonly referenceId: string
  /** Stored codes of red, 0..1. */
  readonly reading: number
  readonly reference: number
  /** Alike enough that the error of the curve nearly cancels. */
  readonly matched: boolean
}

/**
 * Largest difference of stored red that counts as the same level. Over the prior of tone curves
 * (tone-curve-prior.ts) what is left of ln(G/R) 0.25 is then 0.04 to 0.07, and up to 0.14 at twice
 * the difference near the top.
 */
const SAME_LEVEL = 0.1

/**
 * The known heat nearest in level to an ordinary single photo; null where there is none on the same
 * curve, or where the light is linear.
 */
export function levelMatch(input: GlowInput): LevelMatch | null {
  const { linearity } = input
  if (linearity.kind !== 'single') return null
  const reading = linearity.storedLevels[0]
  let nearest: LevelMatch | null = null
  for (const reference of input.references) {
    const its = reference.linearity
    if (its.kind !== 'single' || its.curveId !== linearity.curveId) continue
    if (referenceStatus(reference, input) !== null) continue
    const level = its.storedLevels[0]
    const apart = Math.abs(level - reading)
    if (nearest && apart >= Math.abs(nearest.reference - reading)) continue
    nearest = { referenceId: reference.id, reading, reference: level, matched: apart <= SAME_LEVEL }
  }
  return nearest
}
