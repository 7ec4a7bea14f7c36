import { CHAPMAN_RANGES, STIRLING_POINTS } from './heat-colours.data.ts'
import { celsiusFromKelvin, kelvinFromCelsius } from './units.ts'

export { CHAPMAN_RANGES, DRAPER_FIRST_GLOW_C, STIRLING_POINTS } from './heat-colours.data.ts'

/** A named range of Chapman's list; toK is Infinity for the last. */
export interface ChapmanColour {
  readonly name: string
  readonly fromK: number
  readonly toK: number
}

/** A named point of Stirling's list. */
export interface StirlingColour {
  readonly name: string
  readonly temperatureK: number
}

/** A temperature among Stirling's points. */
export interface StirlingPlace {
  /** The nearest point at or below; undefined below the first (not visible). */
  readonly below?: StirlingColour
  /** The nearest point above; undefined at and above the last. */
  readonly above?: StirlingColour
  /** Whichever lies closer; halfway counts as the lower. The list names points, so between two
   * of them a name is a choice, and both should be shown. */
  readonly nearest: StirlingColour
}

const CHAPMAN: readonly ChapmanColour[] = CHAPMAN_RANGES.map(({ fromC, name }, i) => ({
  name,
  fromK: kelvinFromCelsius(fromC),
  toK: kelvinFromCelsius(CHAPMAN_RANGES[i + 1]?.fromC ?? Number.POSITIVE_INFINITY),
}))
const STIRLING: readonly StirlingColour[] = STIRLING_POINTS.map(({ atC, name }) => ({
  name,
  temperatureK: kelvinFromCelsius(atC),
}))

/** Chapman's name at a temperature; undefined below 426 °C, where he names none. */
export function chapmanColour(temperatureK: number): ChapmanColour | undefined {
  // Compared in °C, as printed: 871 °C must not fall below its own border by rounding.
  const celsius = Number(celsiusFromKelvin(temperatureK).toFixed(9))
  return CHAPMAN.findLast((_, i) => celsius >= CHAPMAN_RANGES[i]!.fromC)
}

/** Every name of Chapman's that an interval of temperature touches, from cold to hot. */
export function chapmanColoursBetween(lowK: number, highK: number): readonly ChapmanColour[] {
  return CHAPMAN.filter((colour) => colour.fromK <= highK && colour.toK > lowK)
}

/** Where a temperature lies among Stirling's points. */
export function stirlingColour(temperatureK: number): StirlingPlace {
  const celsius = Number(celsiusFromKelvin(temperatureK).toFixed(9))
  const i = STIRLING_POINTS.findLastIndex(({ atC }) => celsius >= atC)
  const below = STIRLING[i]
  const above = STIRLING[i + 1]
  const lowerIsNearer =
    !above || (below && temperatureK - below.temperatureK <= above.temperatureK - temperatureK)
  return {
    ...(below && { below }),
    ...(above && { above }),
    nearest: below && lowerIsNearer ? below : (above ?? below)!,
  }
}
