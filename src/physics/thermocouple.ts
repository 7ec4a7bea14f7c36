import { celsiusFromKelvin, kelvinFromCelsius } from './units.ts'

/** Letter-designated thermocouples used in glowing work. */
export type ThermocoupleType = 'K' | 'N' | 'J' | 'R' | 'S' | 'B'
export type ToleranceClass = 1 | 2

interface Tolerance {
  /** Largest temperature for which the standard gives limits, °C. */
  readonly toC: number
  /** Constant part, K: the limit is the larger of this and the share. */
  readonly constantK: number
  /** Share of the temperature in °C. */
  readonly share: number
}

/** IEC 60584-1:2013, table of tolerances, from memory. */
const TOLERANCES: Readonly<Record<ThermocoupleType, Partial<Record<ToleranceClass, Tolerance>>>> = {
  K: {
    1: { toC: 1000, constantK: 1.5, share: 0.004 },
    2: { toC: 1200, constantK: 2.5, share: 0.0075 },
  },
  N: {
    1: { toC: 1000, constantK: 1.5, share: 0.004 },
    2: { toC: 1200, constantK: 2.5, share: 0.0075 },
  },
  J: {
    1: { toC: 750, constantK: 1.5, share: 0.004 },
    2: { toC: 750, constantK: 2.5, share: 0.0075 },
  },
  R: { 2: { toC: 1600, constantK: 1.5, share: 0.0025 } },
  S: { 2: { toC: 1600, constantK: 1.5, share: 0.0025 } },
  B: { 2: { toC: 1700, constantK: 1.5, share: 0.0025 } },
}

/**
 * Limits of error of a new thermocouple at a temperature, +-K. An old one in a hot shop may have
 * drifted beyond; that is the user's to state.
 *
 * @returns K, or undefined above the standard's range and for classes not given for the type
 *   (class 1 of R and S rises above 1100 °C in another way and is left out)
 * @example thermocoupleLimits('K', 2, 1173.15) // 6.75
 */
export function thermocoupleLimits(
  type: ThermocoupleType,
  toleranceClass: ToleranceClass,
  temperatureK: number,
): number | undefined {
  const tolerance = TOLERANCES[type][toleranceClass]
  if (!tolerance) return undefined
  // In kelvin, so that the very end, stated in °C, is not lost by rounding.
  const [leastK, mostK] = [kelvinFromCelsius(0), kelvinFromCelsius(tolerance.toC)]
  if (!(temperatureK >= leastK && temperatureK <= mostK)) return undefined
  return Math.max(tolerance.constantK, tolerance.share * celsiusFromKelvin(temperatureK))
}

/** Limits of a temperature-indicating crayon: +-1 % of its value in °C (common practice), K. */
export const crayonLimits = (temperatureK: number): number => 0.01 * celsiusFromKelvin(temperatureK)
