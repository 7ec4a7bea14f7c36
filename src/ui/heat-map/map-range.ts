import { lightnessOfGlow } from '../../colour/map-scale.ts'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import type { MapRange } from './map-picture.ts'

/** Share of the cells at each end that the scale need not reach. */
const ENDS = 0.005

/** The scale of a map, and how far apart its isotherms stand at least; null: noise alone would draw them. */
export interface MapScale extends MapRange {
  readonly leastStepK: number | null
}

/** Ranges and steps in standard uncertainties of a cell. */
const NOISE_RANGE = 8
const NOISE_STEP = 4

/** Nearly all that was read, and no less than a range in which noise does not fill the scale. */
export function rangeOf({ temperatureK, ownK }: HeatMap): MapScale {
  const read = temperatureK.filter(Number.isFinite).sort()
  const owns = ownK.filter(Number.isFinite).sort()
  const end = Math.floor(ENDS * read.length)
  const [low, high] = [read[end]!, read.at(-1 - end)!]
  const own = owns[owns.length >> 1]!
  const more = Math.max(NOISE_RANGE * own - (high - low), 0) / 2
  const leastStepK = more > 0 ? null : NOISE_STEP * own
  return { lowK: low - more, highK: high + more, leastStepK }
}

/** OKLab lightness of a grey whose red is that of the brightest cell in its own picture. */
export function brightestOf({ lnRed, temperatureK }: HeatMap): number {
  let red = 0
  for (let at = 0; at < lnRed.length; at++)
    if (Number.isFinite(temperatureK[at]!)) red = Math.max(red, Math.exp(lnRed[at]!))
  return lightnessOfGlow(red)
}
