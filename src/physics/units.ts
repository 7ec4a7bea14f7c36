import { ZERO_CELSIUS_K } from './constants.ts'

/** Units in which a person reads temperatures. Inside, everything is kelvin. */
export type TemperatureUnit = 'C' | 'F' | 'K'

/** °C to K (exact, SI Brochure 9, 2.3.1). */
export const kelvinFromCelsius = (celsius: number): number => celsius + ZERO_CELSIUS_K
/** K to °C (exact). */
export const celsiusFromKelvin = (kelvin: number): number => kelvin - ZERO_CELSIUS_K
/** °F to K (exact: 9 °F span 5 K, 32 °F is 0 °C). */
export const kelvinFromFahrenheit = (fahrenheit: number): number =>
  ((fahrenheit - 32) * 5) / 9 + ZERO_CELSIUS_K
/** K to °F (exact). */
export const fahrenheitFromKelvin = (kelvin: number): number =>
  ((kelvin - ZERO_CELSIUS_K) * 9) / 5 + 32

/** A temperature in the unit that the person chose. */
export function temperatureInUnit(temperatureK: number, unit: TemperatureUnit): number {
  if (unit === 'C') return celsiusFromKelvin(temperatureK)
  if (unit === 'F') return fahrenheitFromKelvin(temperatureK)
  return temperatureK
}

/** The inverse of {@link temperatureInUnit}: what a person typed, in K. */
export function temperatureFromUnit(value: number, unit: TemperatureUnit): number {
  if (unit === 'C') return kelvinFromCelsius(value)
  if (unit === 'F') return kelvinFromFahrenheit(value)
  return value
}

/** A difference or an uncertainty of temperature in the chosen unit: scaled, never shifted. */
export function differenceInUnit(differenceK: number, unit: TemperatureUnit): number {
  return unit === 'F' ? (differenceK * 9) / 5 : differenceK
}

/** The inverse of {@link differenceInUnit}. */
export function differenceFromUnit(value: number, unit: TemperatureUnit): number {
  return unit === 'F' ? (value * 5) / 9 : value
}
