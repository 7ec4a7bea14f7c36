import { KNOWN_HEATS } from './fixed-points.data.ts'
import { rectangularUncertainty, rootSumSquare } from './uncertainty.ts'

export { KNOWN_HEATS }

/** Stable names; stored with references, so never renamed. */
export type FixedPointId =
  | 'sodium-chloride'
  | 'potassium-chloride'
  | 'sodium-sulfate'
  | 'potassium-sulfate'
  | 'aluminium'
  | 'silver'
  | 'gold'
  | 'copper'
  | 'magnet-point'
  | 'decalescence'
  | 'recalescence'
  | 'thermocouple'
  | 'crayon'

/** Carbon content of plain steel: under 0.3 %, 0.3 to 0.6 %, above 0.6 % (tool steels with it). */
export type SteelClass = 'low-carbon' | 'medium-carbon' | 'high-carbon' | 'unknown'

/** Under charcoal or inert gas, or in open air, where some metals take up oxygen and melt lower. */
export type MeltAtmosphere = 'covered' | 'open-air'

/** One thing to do; in order they are the instruction. Sentences stand in ui/words. */
export type FixedPointStep =
  | 'isolate mains'
  | 'carry fumes off'
  | 'dry salt'
  | 'oxidised carrier'
  | 'pinch on carrier'
  | 'snippet on carrier'
  | 'cover with charcoal'
  | 'heat slowly'
  | 'watch first melt'
  | 'hold half melted'
  | 'flame off'
  | 'photograph carrier'
  | 'magnet on wire'
  | 'watch magnet let go'
  | 'photograph at let go'
  | 'work in shade'
  | 'watch shadow heating'
  | 'watch shadow cooling'
  | 'photograph at shadow'
  | 'seat thermocouple'
  | 'wait steady'
  | 'photograph beside junction'
  | 'crayon stroke'
  | 'watch crayon melt'
  | 'photograph beside stroke'

/** One thing that can go wrong or hurt, most important first. */
export type FixedPointHazard =
  | 'salt spits'
  | 'salt fumes'
  | 'salt corrodes'
  | 'sodium light'
  | 'mixed salts melt low'
  | 'live element'
  | 'clean bead reads hot'
  | 'molten metal'
  | 'silver spits'
  | 'open air lowers'
  | 'not on freezing'
  | 'carrier not sample'
  | 'near floor'
  | 'magnet heating only'
  | 'class moves point'
  | 'heating rate moves point'
  | 'shadow weak in mild steel'
  | 'alloy steel unknown'
  | 'thermocouple reads cold'
  | 'thermocouple on live'
  | 'crayon not in flame'
  | 'coating fumes'

/** A temperature under a stated condition. */
export interface HeatPoint {
  readonly temperatureK: number
  /** Of the point itself: purity, scale, class. K. */
  readonly standardUncertaintyK: number
  readonly source: string
}

/** Anything whose temperature the user can know by watching it. */
export type FixedPointGroup = 'salt' | 'steel' | 'metal' | 'stated'

export interface FixedPoint {
  readonly id: FixedPointId
  /** Where a picker shows it. */
  readonly group: FixedPointGroup
  /** Plain trade name. */
  readonly name: string
  /** One point, or one for each atmosphere or steel class, or none: the user states the value. */
  readonly points:
    | { readonly by: 'nothing'; readonly point: HeatPoint }
    | { readonly by: 'atmosphere'; readonly points: Readonly<Record<MeltAtmosphere, HeatPoint>> }
    | {
        readonly by: 'steel class'
        readonly points: Readonly<Partial<Record<SteelClass, HeatPoint>>>
      }
    | { readonly by: 'value' }
  /** How far what is photographed may be from the point: carrier, moment, soak. K, standard. */
  readonly observationUncertaintyK: number
  readonly steps: readonly FixedPointStep[]
  readonly hazards: readonly FixedPointHazard[]
}

/** What the user chose or typed. */
export interface FixedPointChoice {
  readonly id: FixedPointId
  readonly atmosphere?: MeltAtmosphere
  readonly steelClass?: SteelClass
  /** For thermocouple and crayon: the value and the limits of error stated for it, K. */
  readonly valueK?: number
  readonly limitsOfErrorK?: number
}

export interface FixedPointTemperature {
  readonly ok: true
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  /** Of the point itself, K. */
  readonly pointUncertaintyK: number
  /** Of the surface photographed being at that point, K. */
  readonly observationUncertaintyK: number
  readonly source: string
}

/** What is missing: the steel class, the value, or a class for which no point is known. */
export interface FixedPointRefusal {
  readonly ok: false
  readonly code: 'unknown heat' | 'class not known for this' | 'value needed' | 'value out of range'
}

/** Known heats given by value must lie here, K: below there is no glow, above no thermocouple. */
export const KNOWN_VALUE_RANGE_K = [700, 2100] as const

/**
 * Temperature of a known heat with its standard uncertainty (point and observation combined).
 * Metals count as melted in open air, and steel as of unknown class, unless stated.
 */
export function fixedPointTemperature(
  choice: FixedPointChoice,
): FixedPointTemperature | FixedPointRefusal {
  const heat = KNOWN_HEATS.find(({ id }) => id === choice.id)
  if (!heat) return { ok: false, code: 'unknown heat' }
  const point = pointOf(heat, choice)
  if ('ok' in point) return point
  return {
    ok: true,
    temperatureK: point.temperatureK,
    standardUncertaintyK: rootSumSquare([point.standardUncertaintyK, heat.observationUncertaintyK]),
    pointUncertaintyK: point.standardUncertaintyK,
    observationUncertaintyK: heat.observationUncertaintyK,
    source: point.source,
  }
}

function pointOf({ points }: FixedPoint, choice: FixedPointChoice): HeatPoint | FixedPointRefusal {
  switch (points.by) {
    case 'nothing':
      return points.point
    case 'atmosphere':
      return points.points[choice.atmosphere ?? 'open-air']
    case 'steel class':
      return (
        points.points[choice.steelClass ?? 'unknown'] ?? {
          ok: false,
          code: 'class not known for this',
        }
      )
    case 'value': {
      const { valueK, limitsOfErrorK } = choice
      if (valueK === undefined || limitsOfErrorK === undefined)
        return { ok: false, code: 'value needed' }
      const [least, most] = KNOWN_VALUE_RANGE_K
      if (!(valueK >= least && valueK <= most && limitsOfErrorK >= 0))
        return { ok: false, code: 'value out of range' }
      return {
        temperatureK: valueK,
        standardUncertaintyK: rectangularUncertainty(limitsOfErrorK),
        source: 'stated by the user',
      }
    }
  }
}
