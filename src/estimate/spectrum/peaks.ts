import { type Bins, binMeans, binsOf } from './bins.ts'
import type { FitPoints } from './fit-points.ts'
import type { SpectrumPeak } from './types.ts'

/** Least height above the valleys beside a peak, as a share of the largest radiance. */
const LEAST_HEIGHT = 0.12
/** A rise must be this many times its noise. */
const LEAST_SIGNAL = 6
const MOST_PEAKS = 6

/**
 * Peaks of a spectrum with the instrument taken out. Planck's law has one, beyond 724 nm for anything
 * under 4000 K (Wien's displacement law): any other, and any before that, is no glow's.
 *
 * @returns the highest first
 */
export function spectrumPeaks(points: FitPoints): SpectrumPeak[] {
  const bins = binsOf(points.nm)
  const radiance = binnedRadiance(points, bins)
  const largest = radiance.reduce((most, value) => Math.max(most, value), 0)
  if (!(largest > 0)) return []
  const noise = roughness(radiance)
  const least = Math.max(LEAST_HEIGHT * largest, LEAST_SIGNAL * noise)
  const peaks: SpectrumPeak[] = []
  for (let i = 1; i + 1 < radiance.length; i++) {
    const top = radiance[i]!
    if (!(top >= radiance[i - 1]! && top > radiance[i + 1]!)) continue
    const left = valley(radiance, i, -1)
    const right = valley(radiance, i, 1)
    const height = top - Math.max(left, right)
    if (height < least) continue
    const half = top - height / 2
    peaks.push({
      atNm: bins.nm[i]!,
      widthNm: crossing(bins.nm, radiance, i, 1, half) - crossing(bins.nm, radiance, i, -1, half),
      height: height / largest,
    })
  }
  return peaks.sort((a, b) => b.height - a.height).slice(0, MOST_PEAKS)
}

function binnedRadiance(points: FitPoints, bins: Bins): Float64Array {
  const middle = points.logFactor[points.logFactor.length >> 1]!
  return binMeans(
    bins.start,
    points.signal.map((value, i) => value / Math.exp(points.logFactor[i]! - middle)),
  )
}

/** Lowest value before the spectrum rises above the peak again. */
function valley(values: Float64Array, from: number, step: 1 | -1): number {
  const top = values[from]!
  let low = top
  for (let i = from + step; i >= 0 && i < values.length && values[i]! <= top; i += step) {
    low = Math.min(low, values[i]!)
  }
  return low
}

/** Where the flank of a peak falls through a level, between bins; the end where it does not. */
function crossing(
  nm: Float64Array,
  values: Float64Array,
  from: number,
  step: 1 | -1,
  level: number,
): number {
  let i = from
  while (i + step >= 0 && i + step < values.length && values[i + step]! > level) i += step
  const next = i + step
  if (next < 0 || next >= values.length) return nm[i]!
  const share = (values[i]! - level) / (values[i]! - values[next]!)
  return nm[i]! + share * (nm[next]! - nm[i]!)
}

/** Median departure of a value from the mean of its neighbours. */
function roughness(values: Float64Array): number {
  const steps = new Float64Array(Math.max(0, values.length - 2))
  for (let i = 0; i < steps.length; i++) {
    steps[i] = Math.abs(values[i + 1]! - (values[i]! + values[i + 2]!) / 2)
  }
  return steps.sort()[steps.length >> 1] ?? 0
}
