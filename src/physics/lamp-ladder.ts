import {
  type LampRating,
  POWER_EXPONENT,
  POWER_RATIO_RANGE,
  VOLTS_EXPONENT,
  VOLTS_RATIO_RANGE,
} from './lamps.ts'

/**
 * Colour temperatures of a lamp ladder, K: evenly spread in reciprocal temperature from rated to the
 * dullest red of a filament in the dark. The last two lie below the rating laws: they want the filament's
 * resistance.
 */
export const LADDER_RUNGS_K = [2700, 2380, 2130, 1930, 1760, 1620, 1500, 1400, 1290, 1200] as const

/** Where to set the dimmer for a colour temperature; what the meters should then show, roughly. */
export interface LampSetting {
  /** V / V0. */
  readonly voltsRatio: number
  /** P / P0. */
  readonly powerRatio: number
  /** False where the rating laws do not reach. */
  readonly withinLaw: boolean
}

/**
 * Inverse of the lamp re-rating laws, as a guide for the dimmer; what counts is then measured.
 *
 * @param colourTemperatureK 1000..3450 K
 * @example lampSetting(2200, { colourTemperatureK: 2700, standardUncertaintyK: 40 }).voltsRatio // 0.61
 * Source: IES Lighting Handbook (re-rating).
 */
export function lampSetting(colourTemperatureK: number, rating: LampRating): LampSetting {
  const voltsRatio = (colourTemperatureK / rating.colourTemperatureK) ** (1 / VOLTS_EXPONENT.value)
  const powerRatio = voltsRatio ** POWER_EXPONENT.value
  const within = (value: number, [low, high]: readonly [number, number]) =>
    value >= low && value <= high
  return {
    voltsRatio,
    powerRatio,
    withinLaw: within(voltsRatio, VOLTS_RATIO_RANGE) && within(powerRatio, POWER_RATIO_RANGE),
  }
}
