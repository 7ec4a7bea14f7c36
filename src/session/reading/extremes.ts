import { estimateGlow } from '../../estimate/estimate-glow.ts'
import type { GlowInput } from '../../estimate/types.ts'
import type { Unevenness } from '../../light/unevenness.ts'

/** Hottest and coolest part of a glow, K; null where one of them has no temperature. */
export function extremesOf(
  whole: GlowInput,
  parts: Unevenness,
): { readonly hottest: number; readonly coolest: number } | null {
  if (!parts.hottest || !parts.coolest) return null
  const of = (glow: GlowInput['glow']) => {
    const found = estimateGlow({ ...whole, glow })
    return found.kind === 'temperature' ? found.temperatureK : null
  }
  const hottest = of(parts.hottest.colour)
  const coolest = of(parts.coolest.colour)
  if (hottest === null || coolest === null) return null
  // Chosen by G/R alone; a part's blue can turn two that are nearly alike round.
  return { hottest: Math.max(hottest, coolest), coolest: Math.min(hottest, coolest) }
}
