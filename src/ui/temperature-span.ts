import { differenceInUnit } from '../physics/units.ts'
import { roundTemperature, stepOf, temperatureUnit } from './temperature.ts'

/** "34 ± 20 °C", of a difference: scaled, never shifted; the ± is rounded up, as that of a figure. */
export function showSpan(
  differenceK: number,
  expandedUncertaintyK: number,
  unit = temperatureUnit.value,
): string {
  const step = stepOf(differenceInUnit(expandedUncertaintyK, unit))
  const value = Math.round(differenceInUnit(differenceK, unit) / step) * step
  const { plusMinus, unit: symbol } = roundTemperature(0, expandedUncertaintyK, unit)
  return `${value.toFixed(0)} ± ${plusMinus} ${symbol}`
}

/** The same with its sign: "+34 ± 20 °C". */
export const showMoveSpan = (differenceK: number, expandedUncertaintyK: number): string =>
  signed(differenceK, showSpan(Math.abs(differenceK), expandedUncertaintyK))

/** Nothing has no sign. */
const signed = (differenceK: number, span: string): string =>
  span.startsWith('0 ') ? span : `${differenceK < 0 ? '−' : '+'}${span}`
