import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import { curveNoise } from './curve-noise.ts'
import { readingsOf, stretchesOf } from './heat-curve.ts'

/**
 * Wavelength at which ln R of delivered red goes with 1/T, and the relative spread: mean and standard
 * deviation of 52 measured cameras (rawtoaces-data) before Planck's law at 1050 to 1350 K: 634 and 4 nm.
 */
const RED = { nm: 634, spread: 0.006 }
/**
 * Change of a stream's nominal ln light over that of the true, at the levels at which a glow's red is
 * stored, where the tone curve is not known; its standard uncertainty.
 */
const UNKNOWN_CONTRAST = { value: 1.1, uncertainty: 0.17 }
/** What is left of it after an exposure sweep. */
const SWEPT_CONTRAST = { value: 1, uncertainty: 0.02 }
/** Emissivity and distance that change over a recording, as a share of the rate; our estimate. */
const SURFACE = 0.02

const byLevel = ({ uncertainty }: { readonly uncertainty: number }) =>
  Math.hypot(uncertainty, RED.spread, SURFACE)
/**
 * By the ratio an error of contrast that differs between red's and green's level counts eightfold:
 * ln G and ln R both go with 1/T, and their difference by an eighth of either. Measured on simulated
 * films (tests/accuracy/films.ts).
 */
const BY_RATIO = { unknown: 0.6, swept: 0.15 }
/** {@link rateShare} where nothing is known of how the recording was made. */
export const UNSAID_RATE_SHARE = BY_RATIO.unknown
/** Change of ln R below which brightness tells nothing of a course. */
const LEAST_CHANGE = 0.2

/**
 * Relative standard uncertainty of how fast a curve goes, besides that of its height. Where an unknown
 * tone curve bends the course by the ratio, it parts from that by the brightness, which says by how
 * much, whether or not exposure stood.
 *
 * @param swept the tone curve was known and has been undone
 */
export function rateShare(
  course: Pick<Course, 'temperatureK' | 'lnRed'>,
  by: 'level' | 'ratio',
  swept: boolean,
): number {
  if (by === 'level') return byLevel(swept ? SWEPT_CONTRAST : UNKNOWN_CONTRAST)
  if (swept) return BY_RATIO.swept
  return Math.max(BY_RATIO.unknown, apart(course))
}

/** Whether a share is of a course by the ratio, set by heats or not. */
const isByRatio = (share: number) => share === BY_RATIO.swept || share > byLevel(UNKNOWN_CONTRAST)

/** What would make {@link rateShare} smaller: exposure locked, or the tone curve known; null: neither. */
export function limitOfRate(share: number): 'exposure' | 'tone curve' | null {
  if (share <= byLevel(SWEPT_CONTRAST)) return null
  return isByRatio(share) ? 'exposure' : 'tone curve'
}

/**
 * A course by the ratio whose height was set by a heat in it goes too slow: before, its height was as
 * much too hot. Measured on simulated films.
 */
const BY_RATIO_SET = 0.5
/** Share of a rate's doubt that stays between two heats that tell its mean: tone curves bend. */
const BEND = { level: 0.3, ratio: 0.5 }

/** Of {@link rateShare} what counts once heats in the recording set its height, and its mean rate. */
export function rateOnceSet(share: number): { readonly rate: number; readonly bend: number } {
  if (!isByRatio(share)) return { rate: share, bend: BEND.level * share }
  const rate = Math.max(share, BY_RATIO_SET)
  return { rate, bend: BEND.ratio * rate }
}

/** Share by which the course by the brightness goes another way than that by the ratio. */
function apart({ temperatureK, lnRed }: Pick<Course, 'temperatureK' | 'lnRed'>): number {
  let [n, x, y, xx, xy] = [0, 0, 0, 0, 0]
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (let i = 0; i < lnRed.length; i++) {
    const [level, inverse] = [lnRed[i]!, 1 / temperatureK[i]!]
    if (!Number.isFinite(level) || !Number.isFinite(inverse)) continue
    n++
    x += level
    y += inverse
    xx += level * level
    xy += level * inverse
    low = Math.min(low, level)
    high = Math.max(high, level)
  }
  if (!(high - low > LEAST_CHANGE)) return 0
  const rate = (xy - (x * y) / n) / (xx - (x * x) / n)
  return Math.min(LARGEST, Math.abs(-inversePerLn(false) / rate - 1))
}
/** A course that stands where the brightness falls says nothing. */
const LARGEST = 100

/** Change of -1/T over that of nominal ln R, 1/K. */
const inversePerLn = (swept: boolean) =>
  (RED.nm * 1e-9) / SECOND_RADIATION_CONSTANT / (swept ? SWEPT_CONTRAST : UNKNOWN_CONTRAST).value

interface Course {
  readonly seconds: ArrayLike<number>
  readonly temperatureK: Float32Array
  readonly noiseK: Float32Array
  readonly commonK: Float32Array
  readonly lnRed: Float32Array
}

/**
 * The course of a curve by the brightness of its red, in place: where exposure stands, ln R goes with
 * 1/T by Wien, eight times as far as ln(G/R), and with it an error of the tone curve counts once and
 * not eightfold. The height, the mean of 1/T, stays that of the colour, stretch by stretch.
 *
 * @param swept the tone curve was known and has been undone
 */
export function courseByLevel(course: Course, swept: boolean): void {
  const { temperatureK, noiseK, commonK, lnRed } = course
  const perLn = inversePerLn(swept)
  const present = [...temperatureK.keys()].filter(
    (i) => Number.isFinite(temperatureK[i]!) && Number.isFinite(lnRed[i]!),
  )
  const times = Float64Array.from(present, (i) => course.seconds[i]!)
  const stretches = stretchesOf({ seconds: times, temperatureK: times })
  for (const [from, to] of stretches) {
    const part = present.slice(from, to)
    const mean = (of: (i: number) => number) =>
      part.reduce((sum, i) => sum + of(i), 0) / part.length
    const [height, level] = [mean((i) => 1 / temperatureK[i]!), mean((i) => lnRed[i]!)]
    for (const i of part) {
      const kelvin = 1 / (height - perLn * (lnRed[i]! - level))
      commonK[i]! *= (kelvin / temperatureK[i]!) ** 2
      temperatureK[i] = kelvin
    }
  }
  const { sdK } = curveNoise(readingsOf({ seconds: course.seconds, temperatureK }))
  for (const i of present) noiseK[i] = sdK
}
