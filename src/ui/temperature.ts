import { signal } from '@preact/signals'
import { differenceInUnit, type TemperatureUnit, temperatureInUnit } from '../physics/units.ts'

export const UNIT_SYMBOLS: Record<TemperatureUnit, string> = { C: '°C', F: '°F', K: 'K' }

/** The unit a person reads temperatures in; chosen once, kept in the settings. */
export const temperatureUnit = signal<TemperatureUnit>('C')

export interface RoundedTemperature {
  readonly value: string
  readonly plusMinus: string
  /** The unit's sign. */
  readonly unit: string
}

const MIN_SHOWN_STEP = 1

/** A dash where there is no number: the last wall before the eye. */
const digits = (value: number): string => (Number.isFinite(value) ? value.toFixed(0) : '–')

/** The decimal place that leaves two digits of an uncertainty (GUM 7.2.6), never below one degree. */
export function stepOf(uncertainty: number): number {
  if (!(uncertainty > 0)) return MIN_SHOWN_STEP
  return Math.max(MIN_SHOWN_STEP, 10 ** (Math.floor(Math.log10(uncertainty)) - 1))
}

/**
 * A temperature rounded to what its uncertainty supports: the uncertainty keeps two digits and is
 * rounded up, the value is rounded to the same place.
 */
export function roundTemperature(
  temperatureK: number,
  expandedUncertaintyK: number,
  unit = temperatureUnit.value,
): RoundedTemperature {
  const uncertainty = differenceInUnit(expandedUncertaintyK, unit)
  const step = stepOf(uncertainty)
  const rounded = Math.ceil(uncertainty / step - 1e-9) * step
  return {
    value: digits(Math.round(temperatureInUnit(temperatureK, unit) / step) * step),
    plusMinus: digits(Math.max(rounded, MIN_SHOWN_STEP)),
    unit: UNIT_SYMBOLS[unit],
  }
}

/**
 * Both ends of an interval, rounded outward to the place that its half width supports: what is
 * shown never claims more than what was computed.
 */
export function roundInterval(
  [lowK, highK]: readonly [low: number, high: number],
  unit = temperatureUnit.value,
): readonly [low: string, high: string] {
  const step = stepOf(differenceInUnit((highK - lowK) / 2, unit))
  const end = (temperatureK: number, round: (value: number) => number) =>
    `${digits(round(temperatureInUnit(temperatureK, unit) / step) * step)} ${UNIT_SYMBOLS[unit]}`
  return [end(lowK, Math.floor), end(highK, Math.ceil)]
}

/** A temperature alone, to whole degrees: for scales, limits and known heats. */
export function showTemperature(temperatureK: number, unit = temperatureUnit.value): string {
  return `${digits(temperatureInUnit(temperatureK, unit))} ${UNIT_SYMBOLS[unit]}`
}

/** "± 40 °C" from a standard uncertainty, k = 2. */
export function showPlusMinus(standardUncertaintyK: number, unit = temperatureUnit.value): string {
  const rounded = roundTemperature(0, 2 * standardUncertaintyK, unit)
  return `± ${rounded.plusMinus} ${rounded.unit}`
}

/** "812 ± 40 °C", rounded as {@link roundTemperature} rounds. */
export function showFigure(temperatureK: number, expandedUncertaintyK: number): string {
  const { value, plusMinus, unit } = roundTemperature(temperatureK, expandedUncertaintyK)
  return `${value} ± ${plusMinus} ${unit}`
}

/** A difference or a spread of temperatures, to whole degrees. */
export function showDifference(differenceK: number, unit = temperatureUnit.value): string {
  return `${digits(differenceInUnit(differenceK, unit))} ${UNIT_SYMBOLS[unit]}`
}

/** A difference with its sign: "+9 °C", "−3 °C". */
export const showMove = (differenceK: number): string =>
  `${Math.round(differenceK) < 0 ? '−' : '+'}${showDifference(Math.abs(differenceK))}`
