import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import { neededStops } from './needed-stops.ts'

/** The exposures of a sweep of the glow of one photo, in the order of taking. */
export interface SweepPlan {
  /** log2 of each exposure over that of the photo. */
  readonly stops: readonly number[]
  /** Shutter times of the usual series, s; null where the photo does not state its own. */
  readonly seconds: readonly number[] | null
}

/** Red of the first frame, code 0..1: just below clipping. */
const TOP_CODE = 0.93
/** Contrast of most cameras at mid-grey: stops of nominal light for one of exposure. */
const USUAL_CONTRAST = 1.16
/** A clipped photo says only that it is too bright. */
const WHEN_CLIPPED = -2
const MOST_STOPS = 11

/** Shutter times as cameras name them, in thirds of a stop (ISO 516 series, from memory), s. */
const SERIES: readonly number[] = [
  ...[32000, 25000, 20000, 16000, 12500, 10000, 8000, 6400, 5000, 4000, 3200, 2500, 2000],
  ...[1600, 1250, 1000, 800, 640, 500, 400, 320, 250, 200, 160, 125, 100, 80, 60, 50, 40, 30],
  ...[25, 20, 15, 13, 10, 8, 6, 5, 4],
]
  .map((part) => 1 / part)
  .concat([0.3, 0.4, 0.5, 0.6, 0.8, 1, 1.3, 1.6, 2, 2.5, 3.2, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30])

/**
 * Plans a sweep from one photo: from just below clipping a third of a stop up, so that no later photo is
 * brighter than the curve was seen (a clipped frame is left out); thirds down, where the shoulder tells
 * the kinds of curve apart, then whole stops until red is three stops below the codes of green. The first
 * exposure comes once more at the end and shows whether the glow has changed.
 *
 * @param levels codes 0..1 of the glow in the photo
 * @param exposureSeconds of the photo; ISO and aperture stay what they are
 */
export function planSweep(
  [red, green]: Triple,
  clipped: boolean,
  exposureSeconds: number | null,
): SweepPlan {
  const lnRed = Math.log(Math.max(decodeTransfer(red), 1e-4))
  const lnGreen = Math.log(Math.max(decodeTransfer(green), 4e-4))
  const room = (Math.log(decodeTransfer(TOP_CODE)) - lnRed) / Math.LN2 / USUAL_CONTRAST
  const top = clipped ? WHEN_CLIPPED : thirds(room)
  // A clipped red hides how far above green it was.
  const apart = neededStops(lnRed, lnGreen) + (clipped ? 2 : 0)
  const depth = Math.min(Math.ceil(apart / USUAL_CONTRAST), MOST_STOPS)
  const down = [0, 1 / 3, 2 / 3, ...Array.from({ length: depth }, (_, i) => i + 1), 0]
  const stops = down.map((stop) => top - stop)
  if (!clipped) stops.splice(1, 0, top + 1 / 3)
  return {
    stops,
    seconds:
      exposureSeconds === null ? null : stops.map((stop) => named(exposureSeconds * 2 ** stop)),
  }
}

const thirds = (stops: number) => Math.floor(3 * stops) / 3

/** Nearest time of the series; beyond its ends the time itself. */
function named(seconds: number): number {
  const away = (time: number) => Math.abs(Math.log(time / seconds))
  const nearest = SERIES.reduce((best, time) => (away(time) < away(best) ? time : best))
  return away(nearest) < 0.2 ? nearest : seconds
}
