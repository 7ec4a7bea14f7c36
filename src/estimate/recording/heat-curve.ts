import { onceFor } from '../../numerics/once-for.ts'

/**
 * Temperature against time. All arrays have one length; times rise. A reading that is not there
 * (the glow was lost, clipped, below range) is NaN: a gap, never a number.
 */
export interface HeatCurve {
  readonly seconds: ArrayLike<number>
  readonly temperatureK: ArrayLike<number>
  /** Standard uncertainty of each reading by its own noise, K: independent from one to the next. */
  readonly noiseK: ArrayLike<number>
  /** Standard uncertainty of what shifts the whole curve (camera, tone curve, surface), K. */
  readonly commonK: ArrayLike<number>
  /**
   * Relative standard uncertainty of how fast the curve goes besides that of its height: what the tone
   * curve does between one level and another. 0 when not given.
   */
  readonly rateShare?: number
  /** ln of the linear red level; not given for a table. */
  readonly lnRed?: ArrayLike<number>
  /** Where the camera changed its exposure, and the step that this may have put into the curve. */
  readonly jumps?: readonly CurveJump[]
}

export interface CurveJump {
  readonly seconds: number
  /** Standard uncertainty, K. */
  readonly stepK: number
}

/** Readings without the gaps. */
export interface Readings {
  readonly seconds: Float64Array
  readonly temperatureK: Float64Array
}

/** The readings that are there, within a stretch of time where one is given. */
export function readingsOf(
  curve: Pick<HeatCurve, 'seconds' | 'temperatureK'>,
  fromSeconds = Number.NEGATIVE_INFINITY,
  toSeconds = Number.POSITIVE_INFINITY,
): Readings {
  const whole = presentOf(curve)
  const { seconds, temperatureK } = whole
  const [from, to] = [firstAtOrAfter(seconds, fromSeconds), firstAfter(seconds, toSeconds)]
  if (from === 0 && to === seconds.length) return whole
  return { seconds: seconds.subarray(from, to), temperatureK: temperatureK.subarray(from, to) }
}

/** A curve does not change, and two hours of it are long. */
const presentOf = onceFor(present)

function present({ seconds, temperatureK }: Pick<HeatCurve, 'seconds' | 'temperatureK'>): Readings {
  const [times, values]: [number[], number[]] = [[], []]
  for (let i = 0; i < seconds.length; i++) {
    if (!Number.isFinite(temperatureK[i]!)) continue
    times.push(seconds[i]!)
    values.push(temperatureK[i]!)
  }
  return { seconds: Float64Array.from(times), temperatureK: Float64Array.from(values) }
}

/** Index of the first time that is not before a moment. */
export function firstAtOrAfter(seconds: Float64Array, at: number): number {
  let [low, high] = [0, seconds.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (seconds[middle]! < at) low = middle + 1
    else high = middle
  }
  return low
}

/** Index of the first time after a moment. */
function firstAfter(seconds: Float64Array, at: number): number {
  let place = firstAtOrAfter(seconds, at)
  while (place < seconds.length && seconds[place]! <= at) place++
  return place
}

/** Steps longer than this many usual ones are a gap. */
const GAP_STEPS = 4

/** Usual time between readings, s: the median step; NaN for fewer than two. */
export function usualStep(seconds: ArrayLike<number>): number {
  if (seconds.length < 2) return Number.NaN
  const steps = Float64Array.from(
    { length: seconds.length - 1 },
    (_, i) => seconds[i + 1]! - seconds[i]!,
  )
  steps.sort()
  return steps[steps.length >> 1]!
}

/** Stretches [from, to) of readings between which none is missing. */
export const stretchesOf = onceFor(unbroken)

function unbroken({ seconds }: Readings): readonly (readonly [number, number])[] {
  const longest = Math.max(GAP_STEPS * usualStep(seconds), 2)
  const stretches: [number, number][] = []
  let from = 0
  for (let i = 1; i <= seconds.length; i++) {
    if (i < seconds.length && seconds[i]! - seconds[i - 1]! <= longest) continue
    if (i > from) stretches.push([from, i])
    from = i
  }
  return stretches
}

/** Standard uncertainty of what all readings near a temperature share, K; NaN for none. */
export function commonUncertaintyAt({ temperatureK, commonK }: HeatCurve, atK: number): number {
  let nearest = Number.POSITIVE_INFINITY
  let found = Number.NaN
  for (let i = 0; i < temperatureK.length; i++) {
    const away = Math.abs(temperatureK[i]! - atK)
    if (!(away < nearest)) continue
    nearest = away
    found = commonK[i]!
  }
  return found
}
