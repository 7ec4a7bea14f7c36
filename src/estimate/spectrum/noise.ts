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

export function noiseVariance(model: NoiseModel, signal: number): number {
  return model.floor + model.perSignal * Math.max(0, signal)
}

/**
 * Noise of a single spectrum from its roughness: how far each sample lies from the cubic through its
 * four neighbours, which follows any smooth spectrum. Medians in groups of like signal keep lines,
 * edges and dead pixels out; a floor and a slope are fitted through the groups.
 *
 * Spectra that the instrument has already smoothed look quieter than they are; the fit's broad
 * residuals then show it.
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
  const levels = new Float64Array(inside)
  const sizes = new Float64Array(inside)
  for (let k = 0; k < inside; k++) {
    const i = k + 2
    const w = neighbourWeights(wavelengthNm, i)
    const [a, b, c, d] = [signal[i - 2]!, signal[i - 1]!, signal[i + 1]!, signal[i + 2]!]
    levels[k] = w[0] * a + w[1] * b + w[2] * c + w[3] * d
    const spread = Math.sqrt(1 + w[0] ** 2 + w[1] ** 2 + w[2] ** 2 + w[3] ** 2)
    sizes[k] = Math.abs(signal[i]! - levels[k]!) / spread
  }
  const groups = Math.max(1, Math.min(MAX_GROUPS, Math.floor(inside / MIN_GROUP)))
  const sorted = levels.toSorted()
  const points: { signal: number; variance: number }[] = []
  for (let group = 0; group < groups; group++) {
    const from = Math.floor((group * inside) / groups)
    const to = Math.floor(((group + 1) * inside) / groups)
    const low = sorted[from]!
    const high = sorted[to] ?? Number.POSITIVE_INFINITY
    const own = sizes.filter((_, k) => levels[k]! >= low && levels[k]! < high).sort()
    if (own.length === 0) continue
    points.push({
      signal: Math.max(0, sorted[(from + to) >> 1]!),
      variance: Math.max(least, (own[own.length >> 1]! / NORMAL_MEDIAN) ** 2),
    })
  }
  return fitLine(points, least)
}

/** Lagrange weights of the cubic through two neighbours on either side. */
function neighbourWeights(
  x: ArrayLike<number>,
  i: number,
): readonly [number, number, number, number] {
  const at = x[i]!
  const nodes = [x[i - 2]!, x[i - 1]!, x[i + 1]!, x[i + 2]!] as const
  const weight = (j: number) => {
    let product = 1
    for (let k = 0; k < 4; k++) {
      if (k !== j) product *= (at - nodes[k]!) / (nodes[j]! - nodes[k]!)
    }
    return product
  }
  return [weight(0), weight(1), weight(2), weight(3)]
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
