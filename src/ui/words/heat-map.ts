/** What a map of the glow says, in words. */

import type { BandShares } from '../../estimate/map/band-shares.ts'
import type { Ends, Evenness } from '../../estimate/map/evenness.ts'
import type { MapState } from '../../estimate/map/heat-map.ts'
import type { StandingOut } from '../../estimate/map/stand-out.ts'
import { plainNumber } from '../plain-number.ts'
import { showDifference, showPlusMinus } from '../temperature.ts'
import { percent } from './percent.ts'

/** Why a place has no temperature. */
export const NOT_READ: Record<Exclude<MapState, 'read'>, string> = {
  'not glow': 'Nothing glows here.',
  dark: 'Too dark to read. Expose longer.',
  clipped: 'Overexposed. Expose less.',
  edge: 'Too near an edge: glow and dark mix here.',
  thin: 'Too narrow here. Come closer.',
  'off locus': 'Not the colour of a glow: a reflection or a flame.',
  'below range': 'Too cold to read by colour.',
}

const SIDES = ['Right', 'Lower', 'Left', 'Upper'] as const

/** Name of an end by the direction in which it lies, y down. */
function endName([x, y]: readonly [number, number]): string {
  const quarter = Math.round(Math.atan2(y, x) / (Math.PI / 2))
  return `${SIDES[(quarter + 4) % 4]} end`
}

/** Differences below their own uncertainty are none. */
export const standsOut = (differenceK: number, standardUncertaintyK: number): boolean =>
  Math.abs(differenceK) > 2 * standardUncertaintyK

export const plusMinusDifference = (differenceK: number, standardUncertaintyK: number): string =>
  `${showDifference(Math.abs(differenceK)).replace(/ .*/, '')} ${showPlusMinus(standardUncertaintyK)}`

/** "+24 ± 8 °C"; what rounds to nothing has no sign. */
export function signedPlusMinus(differenceK: number, standardUncertaintyK: number): string {
  const shown = plusMinusDifference(differenceK, standardUncertaintyK)
  if (shown.startsWith('0 ')) return shown
  return `${differenceK < 0 ? '−' : '+'}${shown}`
}

function endsSentence({ towards, differenceK, standardUncertaintyK }: Ends): string | null {
  if (!standsOut(differenceK, standardUncertaintyK)) return null
  // The cooler end is named.
  const cooler: readonly [number, number] = differenceK < 0 ? towards : [-towards[0], -towards[1]]
  return `${endName(cooler)} ${plusMinusDifference(differenceK, standardUncertaintyK)} cooler.`
}

const size = (across: number, millimetresPerCell: number | null, side: number): string =>
  millimetresPerCell === null
    ? `${Math.round(across * side)} pixels`
    : `${plainNumber(across * millimetresPerCell).replace(/\.0$/, '')} mm`

function spotSentence(
  { rise, standardUncertainty, across }: StandingOut,
  side: number,
  millimetresPerCell: number | null,
): string {
  // Smoothing and the spot's own skirt lower what is told: the crest is never less.
  const kind = rise > 0 ? 'Hot spot of at least' : 'Cool spot of at least'
  return `${kind} ${signedPlusMinus(rise, standardUncertainty)}, ${size(across, millimetresPerCell, side)} wide.`
}

type LeastSpot = NonNullable<Evenness['leastSpot']>

const NO_SPOTS = 'No spot can be told in this picture'
/** Why, and what helps. */
const NO_SPOTS_FOR: Record<NonNullable<LeastSpot['prevents']>, string> = {
  'tone curve':
    'its tone curve is too unsure. A raw photo can, or an exposure sweep in small steps.',
  scale: 'how its colours turn into heat is too unsure. One more known heat helps.',
  noise: 'its noise or coarse JPEG hides them. Expose longer, or use the finest quality or raw.',
}

function leastSpotSentence(
  { riseK, pixels, prevents }: LeastSpot,
  side: number,
  millimetresPerCell: number | null,
): string {
  if (riseK === null) {
    return prevents === null ? `${NO_SPOTS}.` : `${NO_SPOTS}: ${NO_SPOTS_FOR[prevents]}`
  }
  const width = size(pixels / side, millimetresPerCell, side)
  return `Spots of less than ${showDifference(riseK)} or ${width} cannot be told in this picture.`
}

function surfaceSentence(parts: readonly StandingOut[]): string {
  const [first] = parts
  const percent = Math.round(100 * Math.abs(Math.expm1(first!.rise)))
  const kind = first!.rise > 0 ? 'brighter' : 'darker'
  return parts.length === 1
    ? `One place is ${percent} % ${kind} at the same colour: surface, not heat.`
    : `${parts.length} places are up to ${percent} % ${kind} at the same colour: surface, not heat.`
}

/**
 * Statements about the whole, most important first.
 *
 * @param side of a cell, pixels of the picture
 */
export function evennessSentences(
  { withinK, ends, spots, surface, leastSpot }: Evenness,
  side: number,
  millimetresPerCell: number | null,
): string[] {
  const cooler = ends && endsSentence(ends)
  return [
    `Even within ± ${showDifference(withinK)}.`,
    ...(cooler ? [cooler] : []),
    ...spots.map((spot) => spotSentence(spot, side, millimetresPerCell)),
    ...(surface.length > 0 ? [surfaceSentence(surface)] : []),
    ...(leastSpot ? [leastSpotSentence(leastSpot, side, millimetresPerCell)] : []),
  ]
}

/** What the marks on a map mean. */
export function markSentence({ spots, surface }: Pick<Evenness, 'spots' | 'surface'>): string {
  const rings = [
    ...(spots.length > 0 ? ['ring: spot'] : []),
    ...(surface.length > 0 ? ['broken ring: surface'] : []),
  ]
  return `${['▲ hottest', '▼ coolest', ...rings].join(', ')}.`
}

/** What was left out along outlines, and how close to go. */
export function marginSentence(marginPixels: number, closer: number): string {
  const margin = `Left out along edges: ${Math.round(marginPixels)} pixels, as far as blur reaches in this picture.`
  if (closer <= 1) return margin
  return `${margin} Narrow parts need ${closer.toFixed(1)} times the width: come closer.`
}

export const MAP_WORDS = {
  title: 'Map',
  summary: 'Map: where it is hottest, how even',
  unreadable: 'The map of this reading cannot be shown: it was damaged.',
  making: 'Mapping …',
  failed: 'The map could not be made. Close it and open it again; if it stays so, reload.',
  tooLittle: 'Too little of the glow can be mapped.',
  tooLittleTodo: 'Come closer, so that the glow is wider, and expose so that it does not clip.',
  whole: 'Shift of the whole map',
  places: 'Between two places alike',
  span: 'Hottest ▲ over coolest ▼',
  caution: 'Differences assume one surface: scale and bare metal side by side may look like heat.',
} as const

/** A place against that of the reading, whose common uncertainty drops out. */
export const againstReading = (differenceK: number, standardUncertaintyK: number): string =>
  standsOut(differenceK, standardUncertaintyK)
    ? `${plusMinusDifference(differenceK, standardUncertaintyK)} ${differenceK > 0 ? 'hotter' : 'cooler'} than where the reading was taken`
    : `as hot as where the reading was taken, ${showPlusMinus(standardUncertaintyK)}`

/** How much of the map lies in a target band. */
export function bandSentences({ below, inside, above, ...shifted }: BandShares): string[] {
  const { insideFrom, insideTo } = shifted
  const range = `${percent(insideFrom)} to ${percent(insideTo)}`
  return [
    `${percent(inside)} lies in the band, ${percent(below)} below, ${percent(above)} above.`,
    ...(percent(insideFrom) === percent(insideTo)
      ? []
      : [`As the whole map may shift: ${range} in the band.`]),
  ]
}
