import { onceFor } from '../../numerics/once-for.ts'
import { median } from '../../numerics/statistics.ts'
import type { Readings } from './heat-curve.ts'

/** Scatter of readings about a smooth curve, and how much of it stays when they are averaged. */
export interface CurveNoise {
  /** Standard deviation of one reading, K. */
  readonly sdK: number
  /**
   * Factor on the standard error of any mean or slope: 1 for independent readings, more where
   * neighbours err together (a hand that sways, a lamp that beats with the shutter).
   */
  readonly inflation: number
}

/** Third differences below this number say little of their spread. */
const LEAST = 10
/** Blocks below this number are so long that the curvature itself shows in them. */
const LEAST_BLOCKS = 40
/** Standard deviation of a third difference (1, -3, 3, -1) of independent values. */
const THIRD = Math.sqrt(20)

/**
 * Noise of a curve from third differences of block means: they take a straight line and curvature
 * out. The median of their size does not see a few kinks. Independent readings give a spread that
 * falls with the root of the block's length; what falls less is the inflation (the idea of the
 * Allan variance, IEEE Std 1139-2008, annex B).
 *
 * @returns sdK 0 for fewer than 13 readings: nothing is known of their noise
 */
export const curveNoise = onceFor(noiseOf)

function noiseOf({ temperatureK }: Readings): CurveNoise {
  const spread = (length: number): number => {
    const count = Math.floor(temperatureK.length / length)
    if (count - 3 < LEAST) return Number.NaN
    const means = Float64Array.from({ length: count }, (_, i) => {
      let sum = 0
      for (let k = 0; k < length; k++) sum += temperatureK[i * length + k]!
      return sum / length
    })
    const sizes = Float64Array.from({ length: count - 3 }, (_, i) =>
      Math.abs(means[i]! - 3 * means[i + 1]! + 3 * means[i + 2]! - means[i + 3]!),
    )
    return (1.4826 * median(sizes)) / THIRD
  }
  const sdK = spread(1)
  if (!(sdK > 0)) return { sdK: 0, inflation: 1 }
  let [before, last, inflation] = [1, 1, 1]
  for (let length = 2; temperatureK.length / length >= LEAST_BLOCKS; length *= 2) {
    before = last
    last = (spread(length) * Math.sqrt(length)) / sdK
    inflation = Math.max(inflation, last)
  }
  // Still growing at the longest blocks: by half as much, in the logarithm, with each doubling more.
  // Means that do not scatter at all (values that alternate) say nothing of a growth.
  if (before > 0) inflation *= Math.max(1, last / before) ** 2
  return { sdK, inflation }
}

/** Readings whose median one is held against. */
const MEDIAN_OF = 7
/** A reading further away than this many standard deviations is a stray one. */
const STRAY = 5

/** Readings without single ones far off: a spark, a hand before the glow (Hampel's identifier). */
export function withoutStrays(readings: Readings): Readings {
  const { seconds, temperatureK } = readings
  const { sdK } = curveNoise(readings)
  if (sdK === 0) return readings
  const half = MEDIAN_OF >> 1
  const stays = (i: number) => {
    if (i < half || i + half >= seconds.length) return true
    const around = median(temperatureK.subarray(i - half, i + half + 1))
    return Math.abs(temperatureK[i]! - around) <= STRAY * sdK
  }
  const kept = Float64Array.from(seconds.keys()).filter(stays)
  return {
    seconds: kept.map((i) => seconds[i]!),
    temperatureK: kept.map((i) => temperatureK[i]!),
  }
}

/**
 * Standard deviation of residuals times the factor by which errors of means exceed those of
 * independent values: the root of 1 + 2 sum of the autocorrelations, up to where they vanish
 * (Sokal 1997, Functional Integration, 61).
 */
export function correlatedError(residuals: Float64Array): number {
  const n = residuals.length
  let variance = 0
  for (const r of residuals) variance += r * r
  if (variance === 0) return 0
  let factor = 1
  for (let lag = 1; lag < n / 4; lag++) {
    let product = 0
    for (let i = lag; i < n; i++) product += residuals[i]! * residuals[i - lag]!
    const correlation = product / variance
    // Within the scatter that autocorrelations of noise have.
    if (correlation < 1 / Math.sqrt(n)) break
    factor += 2 * correlation
  }
  return Math.sqrt((variance / n) * factor)
}
