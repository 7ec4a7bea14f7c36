import type { Material } from './materials.ts'

/** Causes of a reading that cannot be, the commonest first. */
export const CAUSES_OF_IMPOSSIBLE = [
  'tone curve',
  'white balance',
  'reflection',
  'wrong material',
  'flame or plasma light',
] as const
export type CauseOfImpossible = (typeof CAUSES_OF_IMPOSSIBLE)[number]

/**
 * - impossible: above the melting range by more than its expanded uncertainty (k = 2)
 * - above melting: above the melting range, but the uncertainty reaches into it
 * - melting: within the range, partly molten
 * - above service: solid, but hotter than it lasts
 * - possible: below the highest continuous service temperature, or that is not known
 * - no limit known: neither limit is listed for this material
 */
export type LimitVerdict =
  | 'impossible'
  | 'above melting'
  | 'melting'
  | 'above service'
  | 'possible'
  | 'no limit known'

export interface LimitFinding {
  readonly verdict: LimitVerdict
  /** The limit that was compared with, K, and its source. */
  readonly limitK?: number
  readonly source?: string
  /** Reading minus limit, K. */
  readonly beyondK?: number
  /** Where the reading is above the melting range. */
  readonly causes: readonly CauseOfImpossible[]
}

/** A reading against what its material can bear. */
export function compareWithLimits(
  { melting, service }: Material,
  temperatureK: number,
  standardUncertaintyK: number,
): LimitFinding {
  const found = (
    verdict: LimitVerdict,
    limitK: number,
    source: string,
    causes: readonly CauseOfImpossible[] = [],
  ): LimitFinding => ({ verdict, limitK, source, beyondK: temperatureK - limitK, causes })
  if (melting && temperatureK > melting.liquidusK) {
    const sure = temperatureK - 2 * standardUncertaintyK > melting.liquidusK
    const verdict = sure ? 'impossible' : 'above melting'
    return found(verdict, melting.liquidusK, melting.source, CAUSES_OF_IMPOSSIBLE)
  }
  if (melting && temperatureK > melting.solidusK)
    return found('melting', melting.solidusK, melting.source)
  if (service)
    return found(
      temperatureK > service.temperatureK ? 'above service' : 'possible',
      service.temperatureK,
      service.source,
    )
  if (melting) return found('possible', melting.solidusK, melting.source)
  return { verdict: 'no limit known', causes: [] }
}
