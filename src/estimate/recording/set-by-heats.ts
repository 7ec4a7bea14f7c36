import { rateOnceSet } from './course-by-level.ts'
import type { CurveJump } from './heat-curve.ts'

/** What a curve reads over a stretch, and what it is known to have been. */
export interface StandingHeat {
  /** Middle of the stretch. */
  readonly seconds: number
  /** Mean of the curve there, K. */
  readonly readK: number
  readonly temperatureK: number
  readonly standardUncertaintyK: number
}

/** Scale of a curve in 1/T: true = middle + stretch (read - middleRead). */
export interface CurveScale {
  readonly temperatureK: (readK: number) => number
  /** Standard uncertainty of what all readings near a true temperature share, K. */
  readonly commonK: (temperatureK: number) => number
  /** Relative standard uncertainty of how fast the curve goes, besides that of its height. */
  readonly rateShare: number
}

/**
 * Puts a curve through heats that are known to lie on it. An error of camera, surface and window shifts
 * ln(G/R), and with it 1/T, of the whole curve alike (Wien); one of the tone curve stretches it. One heat
 * tells the shift, two and more the stretch too: least squares with the stretch known beforehand as
 * 1 ± its rate's doubt, so that two heats near each other tell no more than they can.
 *
 * @param heats at least one
 * @param rateShare of the curve as it was read
 */
export function scaleByHeats(heats: readonly StandingHeat[], rateShare: number): CurveScale {
  const once = rateOnceSet(rateShare)
  const points = heats.map(({ readK, temperatureK, standardUncertaintyK }) => ({
    read: 1 / readK,
    known: 1 / temperatureK,
    weight: (temperatureK ** 2 / standardUncertaintyK) ** 2,
  }))
  const sum = (of: (point: (typeof points)[number]) => number) =>
    points.reduce((total, point) => total + of(point), 0)
  const weight = sum((p) => p.weight)
  const middleRead = sum((p) => p.weight * p.read) / weight
  const middle = sum((p) => p.weight * p.known) / weight
  const beforehand = once.rate ** 2
  const spread = sum((p) => p.weight * (p.read - middleRead) ** 2)
  const along = sum((p) => p.weight * (p.read - middleRead) * (p.known - middle))
  const stretch = (along * beforehand + 1) / (spread * beforehand + 1)
  const doubt = once.rate / Math.sqrt(spread * beforehand + 1) / Math.abs(stretch)
  // Between the heats the mean is held; about it the curve may bend.
  const bend = heats.length > 1 ? once.bend : 0
  const ends = points.map((p) => p.known)
  return {
    temperatureK: (readK) => 1 / (middle + stretch * (1 / readK - middleRead)),
    commonK: (temperatureK) => {
      const inverse = 1 / temperatureK
      const away = Math.min(...ends.map((end) => Math.abs(inverse - end)))
      const parts = [1 / Math.sqrt(weight), doubt * (inverse - middle), bend * away]
      return Math.hypot(...parts) * temperatureK ** 2
    },
    rateShare: Math.hypot(doubt, bend),
  }
}

/** What changes of exposure between a time and the nearest heat may have put into the curve, K. */
export function stepsSince(
  seconds: number,
  heats: readonly StandingHeat[],
  jumps: readonly CurveJump[],
): number {
  const ways = heats.map((heat) => {
    const [from, to] = [Math.min(seconds, heat.seconds), Math.max(seconds, heat.seconds)]
    const between = jumps.filter((jump) => jump.seconds > from && jump.seconds <= to)
    return Math.hypot(...between.map(({ stepK }) => stepK))
  })
  return Math.min(...ways)
}
