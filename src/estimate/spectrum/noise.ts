import { medianOf } from './arrays.ts'

/**
 * Variance of a signal as detectors have it: a floor (read noise, dark) and a part that grows with
 * the signal (shot noise).
 */
export interface NoiseModel {
  /** Variance at no signal, signal units squared. */
  readonly floor: number
  /** Variance per signal. */
  readonly perSignal: number
}

/** No instrument is better than this share of its largest signal; keeps noise-free data finite. */
const BEST_NOISE_SHARE = 1e-5
/** For spectra that are zero throughout. */
const LEAST_VARIANCE = 1e-100
/** Median of |x| of a standard normal: turns a median of deviations into a standard deviation. */
const NORMAL_MEDIAN = 0.6744897501960817
/** Groups of like signal in which the noise is counted. */
const MAX_GROUPS = 12
const MIN_GROUP = 16
const NEIGHBOURS = [-2, -1, 1, 2] as const
/** Reach of the second look, for noise that neighbours share: at most this many samples and nm. */
const WIDE_SAMPLES = 12
const WIDE_NM = 4
/** Fewer samples in that reach say nothing. */
const LEAST_REACH = 3
/** Share of the samples, the darkest, in which it is taken: there is little shape in them. */
const DARKEST = 0.25
/** A quotient of variances that white noise does not reach. */
const WHITE = 1.5

export function noiseVariance(model: NoiseModel, signal: number): number {
  return model.floor + model.perSignal * Math.max(0, signal)
}

/**
 * Noise of a single spectrum from its roughness: how far each sample lies from the cubic through its
 * four neighbours, which follows any smooth spectrum. Medians in groups of like signal keep lines,
 * edges and dead pixels out; a floor and a slope are fitted through the groups.
 *
 * Spectra that the instrument has already smoothed look quieter than they are: {@link sharedNoise}.
 *
 * @param wavelengthNm strictly rising; fewer than five samples give the least noise there is
 */
export function estimateNoise(
  wavelengthNm: ArrayLike<number>,
  signal: ArrayLike<number>,
): NoiseModel {
  const count = signal.length
  let peak = 0
  for (let i = 0; i < count; i++) peak = Math.max(peak, Math.abs(signal[i]!))
  const least = Math.max(LEAST_VARIANCE, (BEST_NOISE_SHARE * peak) ** 2)
  const inside = Math.max(0, count - 4)
  if (inside === 0) return { floor: least, perSignal: 0 }
  const { levels, sizes } = roughness(wavelengthNm, signal, 1)
  const groups = Math.max(1, Math.min(MAX_GROUPS, Math.floor(inside / MIN_GROUP)))
  const sorted = levels.toSorted()
  const own = Array.from({ length: groups }, (): number[] => [])
  for (let k = 0; k < inside; k++) {
    let group = groups - 1
    while (group > 0 && levels[k]! < sorted[Math.floor((group * inside) / groups)]!) group -= 1
    own[group]!.push(sizes[k]!)
  }
  const points: { signal: number; variance: number }[] = []
  own.forEach((members, group) => {
    if (members.length === 0) return
    const size = medianOf(Float64Array.from(members)) / NORMAL_MEDIAN
    points.push({
      signal: Math.max(0, sorted[Math.floor(((group + 0.5) * inside) / groups)]!),
      variance: Math.max(least, size * size),
    })
  })
  const { floor, perSignal } = fitLine(points, least)
  const shared = sharedNoise(wavelengthNm, signal, levels, sizes, least)
  return { floor: floor * shared, perSignal: perSignal * shared }
}

/**
 * By how much the variance that neighbours show must grow so that means of many samples keep their
 * true one: 1 for white noise, the square of the number of samples that a running mean took.
 *
 * With a running mean over w samples neighbours differ by 1/w of the variance that samples further
 * apart show, and a mean of many has w times the variance that independent ones would give it.
 */
function sharedNoise(
  wavelengthNm: ArrayLike<number>,
  signal: ArrayLike<number>,
  levels: Float64Array,
  sizes: Float64Array,
  least: number,
): number {
  const count = signal.length
  const step = (wavelengthNm[count - 1]! - wavelengthNm[0]!) / (count - 1)
  const reach = Math.min(WIDE_SAMPLES, Math.floor(WIDE_NM / step))
  if (!(reach >= LEAST_REACH) || count < 8 * WIDE_SAMPLES) return 1
  const limit = levels.toSorted()[Math.floor(DARKEST * levels.length)]!
  const wide = roughness(wavelengthNm, signal, reach)
  const offset = 2 * reach - 2
  const dark = wide.levels.map((_, k) => (levels[k + offset]! <= limit ? 1 : 0))
  const near = medianOf(sizes.slice(offset, offset + dark.length).filter((_, k) => dark[k] === 1))
  const far = medianOf(wide.sizes.filter((_, k) => dark[k] === 1))
  if (!((near / NORMAL_MEDIAN) ** 2 > least)) return 1
  const quotient = (far / near) ** 2
  return quotient > WHITE ? quotient ** 2 : 1
}

/** What the neighbours say of each sample inside, and how far it lies from that, over its spread. */
function roughness(wavelengthNm: ArrayLike<number>, signal: ArrayLike<number>, reach: number) {
  const inside = Math.max(0, signal.length - 4 * reach)
  const levels = new Float64Array(inside)
  const sizes = new Float64Array(inside)
  const w = new Float64Array(4)
  for (let k = 0; k < inside; k++) {
    const i = k + 2 * reach
    neighbourWeights(wavelengthNm, i, reach, w)
    let level = 0
    let squares = 1
    for (let j = 0; j < 4; j++) {
      level += w[j]! * signal[i + reach * NEIGHBOURS[j]!]!
      squares += w[j]! * w[j]!
    }
    levels[k] = level
    sizes[k] = Math.abs(signal[i]! - level) / Math.sqrt(squares)
  }
  return { levels, sizes }
}

/** Lagrange weights of the cubic through two neighbours on either side, into `weights`. */
function neighbourWeights(
  x: ArrayLike<number>,
  i: number,
  reach: number,
  weights: Float64Array,
): void {
  for (let j = 0; j < 4; j++) {
    const node = x[i + reach * NEIGHBOURS[j]!]!
    let product = 1
    for (let k = 0; k < 4; k++) {
      if (k === j) continue
      const other = x[i + reach * NEIGHBOURS[k]!]!
      product *= (x[i]! - other) / (node - other)
    }
    weights[j] = product
  }
}

/**
 * Floor and slope through variances whose own spread is proportional to themselves: weights are
 * the inverse squares, taken anew from the line a few times. Neither goes below zero.
 */
function fitLine(
  points: readonly { readonly signal: number; readonly variance: number }[],
  least: number,
): NoiseModel {
  let model: NoiseModel = {
    floor: points.reduce((sum, { variance }) => sum + variance, 0) / points.length,
    perSignal: 0,
  }
  for (let round = 0; round < 8; round++) {
    let s = 0
    let sx = 0
    let sxx = 0
    let sy = 0
    let sxy = 0
    for (const { signal, variance } of points) {
      const w = 1 / noiseVariance(model, signal) ** 2
      s += w
      sx += w * signal
      sxx += w * signal * signal
      sy += w * variance
      sxy += w * signal * variance
    }
    const determinant = s * sxx - sx * sx
    let perSignal = determinant > 1e-12 * s * sxx ? (s * sxy - sx * sy) / determinant : 0
    let floor = (sy - perSignal * sx) / s
    if (perSignal < 0) {
      perSignal = 0
      floor = sy / s
    } else if (floor < least) {
      floor = least
      perSignal = Math.max(0, (sxy - least * sx) / sxx)
    }
    model = { floor, perSignal }
  }
  return model
}
