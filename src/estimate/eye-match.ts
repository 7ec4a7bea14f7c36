import { CHAPMAN_RANGES, STIRLING_POINTS } from '../physics/heat-colours.ts'
import { kelvinFromCelsius } from '../physics/units.ts'

/**
 * Heat colours that both charts name, by Chapman's name and Stirling's. The same word seen by two
 * trained men: how far their temperatures lie apart is how far an eye can be trusted.
 */
const SAME_COLOUR = [
  ['dark red', 'dull red'],
  ['cherry red', 'full cherry'],
  ['light cherry red', 'clear cherry'],
  ['orange', 'deep orange'],
] as const

/** Middle of a range of Chapman's, K. */
function chapmanMiddleK(name: string): number {
  const i = CHAPMAN_RANGES.findIndex((range) => range.name === name)
  const from = CHAPMAN_RANGES[i]?.fromC ?? Number.NaN
  const to = CHAPMAN_RANGES[i + 1]?.fromC ?? Number.NaN
  return kelvinFromCelsius((from + to) / 2)
}

function stirlingK(name: string): number {
  return kelvinFromCelsius(STIRLING_POINTS.find((point) => point.name === name)?.atC ?? Number.NaN)
}

/**
 * Standard uncertainty of a temperature named by eye, K: the root mean square difference of the two
 * charts over the colours that both name, over the square root of two, since both err.
 * From Chapman 1972 and Stirling 1905 as printed: 45 K.
 */
export const CHART_SPREAD_K = Math.sqrt(
  SAME_COLOUR.reduce(
    (sum, [chapman, stirling]) => sum + (chapmanMiddleK(chapman) - stirlingK(stirling)) ** 2,
    0,
  ) /
    SAME_COLOUR.length /
    2,
)

/**
 * Standard uncertainty by the screen where the piece itself is held against it, K. Screens leave the
 * works within 0.005 of their white in u'v' (common practice); along the Planckian locus u'v' moves
 * by 0.090 from 1000 to 1500 K (Wyszecki & Stiles, from memory), so that is 28 K. A picture on the
 * same screen is shown as wrongly as the chart beside it.
 */
export const SCREEN_SPREAD_K = 28

/** A match by eye, bracketed from both sides. */
export interface EyeMatch {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  /** What the two settings of the scale leave open, K. */
  readonly bracketUncertaintyK: number
  /** {@link CHART_SPREAD_K}. */
  readonly chartUncertaintyK: number
  /** Of what the camera stores, where a picture was matched; 0 for the piece itself. */
  readonly lookUncertaintyK: number
  /** {@link SCREEN_SPREAD_K} for the piece itself; 0 where a picture was matched. */
  readonly screenUncertaintyK: number
}

/**
 * The reading of a match by eye: the middle of the bracket. Between the two settings every place is
 * as likely as any other (rectangular, JCGM 100, 4.3.7): half-width over the square root of three.
 *
 * @param fromHotterK, fromColderK settings of the scale at which glow and chart agreed, K
 * @param screenUncertaintyK {@link SCREEN_SPREAD_K} where the piece itself was matched
 * @param lookUncertaintyK standard uncertainty of the swatch as what this camera stores, K
 */
export function eyeMatch(
  fromHotterK: number,
  fromColderK: number,
  lookUncertaintyK = 0,
  screenUncertaintyK = 0,
): EyeMatch {
  const bracketUncertaintyK = Math.abs(fromHotterK - fromColderK) / 2 / Math.sqrt(3)
  return {
    temperatureK: (fromHotterK + fromColderK) / 2,
    standardUncertaintyK: Math.hypot(
      bracketUncertaintyK,
      CHART_SPREAD_K,
      lookUncertaintyK,
      screenUncertaintyK,
    ),
    bracketUncertaintyK,
    chartUncertaintyK: CHART_SPREAD_K,
    lookUncertaintyK,
    screenUncertaintyK,
  }
}

const NORMAL_95 = 1.96

/**
 * Standard uncertainty of a swatch as what a camera stores, K, from the range of its look.
 *
 * @param range 19 times in 20, null on a side without a bound, which then counts as the other side
 * @returns 0 where no camera is between glow and eye (range null)
 */
export function lookUncertaintyK(
  middleK: number,
  range: { readonly low95K: number | null; readonly high95K: number | null } | null,
): number {
  if (!range) return 0
  const { low95K, high95K } = range
  const below = low95K === null ? null : middleK - low95K
  const above = high95K === null ? null : high95K - middleK
  if (below !== null && above !== null) return (below + above) / 2 / NORMAL_95
  return (below ?? above ?? middleK) / NORMAL_95
}

/** Stored with each reading by eye. */
export const EYE_METHOD_VERSION = 'eye 3'
