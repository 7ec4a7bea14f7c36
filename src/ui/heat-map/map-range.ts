import { lightnessOfGlow } from '../../colour/map-scale.ts'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import type { MapRange } from './map-picture.ts'

/** Share of the cells at each end that the scale need not reach. */
const ENDS = 0.005

/** Nearly all that was read, and no less than a range in which noise does not fill the scale. */
export function rangeOf({ temperatureK, ownK }: HeatMap): MapRange {
  const read = temperatureK.filter(Number.isFinite).sort()
  const owns = ownK.filter(Number.isFinite).sort()
  const end = Math.floor(ENDS * read.length)
  const [low, high] = [read[end]!, read.at(-1 - end)!]
  const least = 8 * owns[owns.length >> 1]!
  const more = Math.max(least - (high - low), 0) / 2
  return { lowK: low - more, highK: high + more }
}

/** CIE Y of Display P3 red and green: the glow's own brightness in its picture. */
const [Y_RED, Y_GREEN] = [0.229, 0.692]

/** OKLab lightness of the brightest cell in its own picture. */
export function brightestOf({ lnRed, temperatureK, scale }: HeatMap): number {
  let red = 0
  for (let at = 0; at < lnRed.length; at++)
    if (Number.isFinite(temperatureK[at]!)) red = Math.max(red, Math.exp(lnRed[at]!))
  return lightnessOfGlow(red * (Y_RED + Y_GREEN * Math.exp(scale.at.lnRatio)))
}
