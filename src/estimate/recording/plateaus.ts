import { curveNoise, withoutStrays } from './curve-noise.ts'
import { type HeatCurve, type Readings, readingsOf, stretchesOf } from './heat-curve.ts'
import { type FittedLine, LineSums } from './line-sums.ts'
import { refinePlateau } from './refine-plateau.ts'

/** A stretch in which the rate falls and recovers. */
export interface Plateau {
  readonly kind: /** The temperature stands. */
    | 'plateau'
    /** It goes on, but slower. */
    | 'slowing'
    /** It turns back for a while: steel that brightens as it cools, or dims as it heats. */
    | 'reversal'
  readonly during: 'cooling' | 'heating'
  readonly fromSeconds: number
  readonly toSeconds: number
  /** Mean over the stretch, K. */
  readonly levelK: number
  /** Standard uncertainty of the level by noise and by the slope left within the stretch, K. */
  readonly levelUncertaintyK: number
  /** K/s, with the standard uncertainty of the one within. */
  readonly slopeBefore: number
  readonly slopeWithin: number
  readonly slopeWithinUncertainty: number
  readonly slopeAfter: number
  /** How far it went past the level first, K; 0 without undercooling. */
  readonly undercoolingK: number
  /** Standard errors by which the rate lies below that of the slower side. */
  readonly significance: number
}

/**
 * Standard errors by which the rate must fall on both sides. With it {@link FALSE_ALARM_RATE} holds:
 * tests/estimate/recording/plateaus.test.ts counts.
 */
const SIGNIFICANT = 6
/** Recordings without a plateau in which one is reported all the same, at most. */
export const FALSE_ALARM_RATE = 0.01
/** The rate must fall at least to this share of the slower side. */
const FALLS_TO = 0.6
/** Below this share the temperature stands. */
const STANDS = 0.2
/** A rate that changes less than this over the stretch is below what a camera tells apart, K. */
const LEAST_HEIGHT_K = 1.5

const LEAST_READINGS = 5
/** Ratio of one length of windows to the next. */
const LENGTHEN = 1.3
/**
 * Lengths of the neighbouring windows, and how far away they begin, over that of the middle. Melts freeze
 * for minutes, and a recording may show no more than seconds of what was before and after.
 */
const SIDES = [0.03, 0.08, 0.25, 0.5, 1] as const
const APART = [0, 0.125, 0.25, 0.5] as const
/** Readings that are searched at most; more are averaged in blocks. */
const MOST_READINGS = 4000

/** A window of readings [from, to) that is slower than both of its neighbours. */
export interface SlowWindow {
  readonly from: number
  readonly to: number
  /** Standard errors between the rate within and that of the slower side. */
  readonly score: number
  /** Sign of the slope on both sides. */
  readonly direction: 1 | -1
}

/**
 * Plateaus and slowings of a curve, in the order of time.
 *
 * While a body cools or warms by one law its rate changes one way: nowhere is it less than on both
 * sides. A stretch with a rate below that before and that after, by more than the noise explains, is
 * heat taken up or given off, or a change of the supply. All lengths and places are tried; of those
 * that overlap the most certain is kept, and its ends are fitted.
 */
export function findPlateaus(curve: Pick<HeatCurve, 'seconds' | 'temperatureK'>): Plateau[] {
  const readings = readingsOf(curve)
  const { seconds, temperatureK } = readings
  return stretchesOf(readings).flatMap(([from, to]) =>
    inStretch({
      seconds: seconds.subarray(from, to),
      temperatureK: temperatureK.subarray(from, to),
    }),
  )
}

function inStretch(whole: Readings): Plateau[] {
  const readings = withoutStrays(averaged(whole, Math.ceil(whole.seconds.length / MOST_READINGS)))
  if (readings.seconds.length < 3 * LEAST_READINGS) return []
  const { sdK, inflation } = curveNoise(readings)
  const errorK = Math.max(sdK * inflation, 1e-6)
  return apart(slowWindows(readings, errorK))
    .flatMap((window) => {
      const { fit, residualErrorK } = refinePlateau(readings, window, { sdK, errorK })
      // What the neighbours err together shows only when the pieces are taken off.
      const significance = (window.score * errorK) / Math.max(errorK, residualErrorK)
      const slower = Math.min(Math.abs(fit.slopeBefore), Math.abs(fit.slopeAfter))
      const onward = (window.direction * fit.slopeWithin) / slower
      const heightK = (1 - onward) * slower * (fit.toSeconds - fit.fromSeconds)
      if (!(significance > SIGNIFICANT && onward < FALLS_TO && heightK > LEAST_HEIGHT_K)) return []
      const kind = onward > STANDS ? 'slowing' : onward < -STANDS ? 'reversal' : 'plateau'
      const during = window.direction < 0 ? 'cooling' : 'heating'
      return [{ ...fit, kind, during, significance } as const]
    })
    .sort((a, b) => a.fromSeconds - b.fromSeconds)
}

/** Means of so many readings each. */
function averaged({ seconds, temperatureK }: Readings, length: number): Readings {
  if (length <= 1) return { seconds, temperatureK }
  const count = Math.floor(seconds.length / length)
  const mean = (values: Float64Array) =>
    Float64Array.from({ length: count }, (_, i) => {
      let sum = 0
      for (let k = i * length; k < (i + 1) * length; k++) sum += values[k]!
      return sum / length
    })
  return { seconds: mean(seconds), temperatureK: mean(temperatureK) }
}

/** Every window whose rate lies significantly below those on both sides. */
function slowWindows(readings: Readings, errorK: number): SlowWindow[] {
  const sums = new LineSums(readings)
  const n = readings.seconds.length
  const found: SlowWindow[] = []
  for (let length = LEAST_READINGS; length < n; length = Math.ceil(length * LENGTHEN)) {
    const step = Math.max(1, length >> 3)
    const sides = SIDES.flatMap((share) => {
      const side = Math.max(LEAST_READINGS, Math.round(share * length))
      return APART.map((gap) => [Math.round(gap * length), side] as const)
    })
    for (let from = LEAST_READINGS; from + length <= n - LEAST_READINGS; from += step) {
      const to = from + length
      const within = sums.line(from, to)
      // A window that is not straight holds more than one thing: it must not win by its length.
      const rms = Math.sqrt(within.squares / Math.max(length - 2, 1))
      const withinError = Math.max(errorK, rms) * within.slopeErrorPerK
      /** Highest scores of the sides by direction: before and after, down and up. */
      let [beforeDown, beforeUp, afterDown, afterUp] = [0, 0, 0, 0]
      const excess = ({ slope, slopeErrorPerK }: FittedLine) => {
        const onward = within.slope * Math.sign(slope)
        const rate = Math.abs(slope)
        if (!(onward < FALLS_TO * rate)) return 0
        return (rate - Math.max(onward, 0)) / Math.hypot(errorK * slopeErrorPerK, withinError)
      }
      for (const [away, side] of sides) {
        if (from - away - side >= 0) {
          const line = sums.line(from - away - side, from - away)
          if (line.slope < 0) beforeDown = Math.max(beforeDown, excess(line))
          else beforeUp = Math.max(beforeUp, excess(line))
        }
        if (to + away + side <= n) {
          const line = sums.line(to + away, to + away + side)
          if (line.slope < 0) afterDown = Math.max(afterDown, excess(line))
          else afterUp = Math.max(afterUp, excess(line))
        }
      }
      const [down, up] = [Math.min(beforeDown, afterDown), Math.min(beforeUp, afterUp)]
      if (down > SIGNIFICANT) found.push({ from, to, score: down, direction: -1 })
      if (up > SIGNIFICANT) found.push({ from, to, score: up, direction: 1 })
    }
  }
  return found
}

/** The most certain windows that do not overlap. */
function apart(windows: SlowWindow[]): SlowWindow[] {
  const kept: SlowWindow[] = []
  for (const window of windows.sort((a, b) => b.score - a.score)) {
    const room = 0.25 * (window.to - window.from)
    const clear = ({ from, to }: SlowWindow) => window.from >= to + room || window.to + room <= from
    if (kept.every(clear)) kept.push(window)
  }
  return kept
}
