import { type FixedPointId, KNOWN_HEATS } from '../../physics/fixed-points.ts'
import type { Plateau } from './plateaus.ts'

/** What a plateau may be, with the range published for it. */
export interface PlateauMeaning {
  readonly id: FixedPointId
  readonly name: string
  /** Condition under which the point holds, where there is more than one. */
  readonly condition: string | null
  readonly temperatureK: number
  /** Standard uncertainty of the point itself, K. */
  readonly pointUncertaintyK: number
  readonly source: string
  /** A change within solid steel, not a melt. */
  readonly inSteel: boolean
  /** Standard deviations between level and point. */
  readonly away: number
}

/** Points further away than this many standard uncertainties are not offered. */
const NEAR = 2.5
/** Heating or cooling on which a known heat can be seen in a curve. */
const ON: Partial<Record<FixedPointId, Plateau['during']>> = {
  decalescence: 'heating',
  recalescence: 'cooling',
}
/** Points that leave no trace in a curve of temperature. */
const UNSEEN: readonly FixedPointId[] = ['magnet-point', 'thermocouple', 'crayon']
/** Changes within solid steel: a trace of any kind. Melts stand still while they freeze or melt. */
const IN_STEEL: readonly FixedPointId[] = ['decalescence', 'recalescence']

/**
 * Known heats that lie where the curve stands, nearest first. A melt gives a level; steel may only
 * slow, or turn back.
 *
 * @param commonUncertaintyK standard uncertainty of what shifts the whole curve, K
 */
export function meaningsOf(plateau: Plateau, commonUncertaintyK: number): PlateauMeaning[] {
  return KNOWN_HEATS.flatMap((heat): PlateauMeaning[] => {
    if (UNSEEN.includes(heat.id)) return []
    if (ON[heat.id] && ON[heat.id] !== plateau.during) return []
    if (!IN_STEEL.includes(heat.id) && plateau.kind !== 'plateau') return []
    const { points } = heat
    if (points.by === 'value') return []
    const all =
      points.by === 'nothing'
        ? [[null, points.point] as const]
        : Object.entries(points.points).map(([name, point]) => [name, point] as const)
    return all.map(([condition, point]) => ({
      id: heat.id,
      name: heat.name,
      condition,
      temperatureK: point.temperatureK,
      pointUncertaintyK: point.standardUncertaintyK,
      source: point.source,
      inSteel: IN_STEEL.includes(heat.id),
      away:
        Math.abs(point.temperatureK - plateau.levelK) /
        Math.hypot(point.standardUncertaintyK, plateau.levelUncertaintyK, commonUncertaintyK),
    }))
  })
    .filter(({ away }) => away <= NEAR)
    .sort((a, b) => a.away - b.away)
}
