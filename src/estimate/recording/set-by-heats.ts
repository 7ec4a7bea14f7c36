import { rateOnceSet } from './course-by-level.ts'
import type { CurveJump } from './heat-curve.ts'

/** What a curve reads over a stretch, and what it is known to have been. */
export interface StandingHeat {
  /** Middle of the stretch. */
  readonly seconds: number
  /** Mean of the curve there, K. */
  readonly readK: number
  readonly temperatureK: number
  /** Of the reading and of what is known together. */
  readonly standardUncertaintyK: number
}

/** Scale of a curve in 1/T: read - middleRead = gain (true - middle). */
export interface CurveScale {
  readonly temperatureK: (readK: number) => number
  /** Standard uncertainty of what all readings near a true temperature share, K. */
  readonly commonK: (temperatureK: number) => number
  /** Relative standard uncertainty of how fast the curve goes, besides that of its height. */
  readonly rateShare: number
  /** Change of true 1/T over that of read. */
  readonly stretch: number
  /** Whether one curve can go through all heats; where not, its figures are worth nothing. */
  readonly agrees: boolean
}

/** Standard deviations by which heats and rate may part from what is known of them. */
const MOST_MISFIT = 3
/** Standard uncertainties of the rate by which heats may make a curve steeper or flatter, but never turn it. */
const MOST_CHANGE = 2

/**
 * Puts a curve through heats that are known to lie on it. An error of camera, surface and window shifts
 * ln(G/R), and with it 1/T, of the whole curve alike (Wien); one of the tone curve stretches it. One heat
 * tells the shift, two and more the gain too: least squares of what was read on what is known, as
 * instruments are calibrated (ISO 11095), because the reading has the noise, with the gain known
 * beforehand as 1 ± its rate's doubt. Two heats at one temperature tell nothing of it: the shift is
 * their mean, and half of what they part is in its uncertainty (Birge 1932).
 *
 * @param heats at least one
 * @param rateShare of the curve as it was read
 */
export function scaleByHeats(heats: readonly StandingHeat[], rateShare: number): CurveScale {
  const once = rateOnceSet(rateShare)
  const points = heats.map((heat) => ({
    read: 1 / heat.readK,
    known: 1 / heat.temperatureK,
    weight: weightOf(heat),
  }))
  const sum = (of: (point: (typeof points)[number]) => number) =>
    points.reduce((total, point) => total + point.weight * of(point), 0)
  const weight = sum(() => 1)
  const middleRead = sum((p) => p.read) / weight
  const middle = sum((p) => p.known) / weight
  const beforehand = once.rate ** 2
  const spread = sum((p) => (p.known - middle) ** 2)
  const along = sum((p) => (p.known - middle) * (p.read - middleRead))
  const gain = (along * beforehand + 1) / (spread * beforehand + 1)
  const doubt = once.rate / Math.sqrt(spread * beforehand + 1) / Math.abs(gain)
  const change = once.rate > 0 ? (gain - 1) / once.rate : 0
  const left = sum((p) => (p.read - middleRead - gain * (p.known - middle)) ** 2)
  const misfit = Math.sqrt((left + change ** 2) / Math.max(heats.length - 1, 1))
  const heightDoubt = Math.max(misfit, 1) / Math.sqrt(weight)
  // Between heats that tell the rate its mean is held; about it the curve may bend.
  const bend = once.bend * Math.sqrt(1 - 1 / (spread * beforehand + 1))
  // A rate that is known stays, but for rounding.
  const most = MOST_CHANGE * once.rate + 1e-9
  const ends = points.map((p) => p.known)
  return {
    temperatureK: (readK) => 1 / (middle + (1 / readK - middleRead) / gain),
    commonK: (temperatureK) => {
      const inverse = 1 / temperatureK
      const away = Math.min(...ends.map((end) => Math.abs(inverse - end)))
      const parts = [heightDoubt, doubt * (inverse - middle), bend * away]
      return Math.hypot(...parts) * temperatureK ** 2
    },
    rateShare: Math.hypot(doubt, bend),
    stretch: 1 / gain,
    agrees: misfit <= MOST_MISFIT && gain > 0 && Math.abs(1 / gain - 1) <= most,
  }
}

/** In 1/T, K². */
const weightOf = ({ temperatureK, standardUncertaintyK }: StandingHeat): number =>
  (temperatureK ** 2 / standardUncertaintyK) ** 2

/**
 * What changes of exposure between a time and the heats may have put into a curve through their weighted
 * mean, K: each counts by the weight of the heats beyond it.
 */
export function stepsSince(
  seconds: number,
  heats: readonly StandingHeat[],
  jumps: readonly CurveJump[],
): number {
  const weights = heats.map(weightOf)
  const whole = weights.reduce((sum, weight) => sum + weight, 0)
  const steps = jumps.map((jump) => {
    const beyond = weights.filter(
      (_, k) => heats[k]!.seconds < jump.seconds !== seconds < jump.seconds,
    )
    return (jump.stepK * beyond.reduce((sum, weight) => sum + weight, 0)) / whole
  })
  return Math.hypot(...steps)
}

/** Heats and one more: what changes of exposure may have put between is in the one's uncertainty. */
export function heatsWith<Heat extends StandingHeat>(
  heats: readonly Heat[],
  heat: Heat,
  jumps: readonly CurveJump[],
): Heat[] {
  const stepK = heats.length > 0 ? stepsSince(heat.seconds, heats, jumps) : 0
  const standardUncertaintyK = Math.hypot(heat.standardUncertaintyK, stepK)
  return [...heats, { ...heat, standardUncertaintyK }]
}
