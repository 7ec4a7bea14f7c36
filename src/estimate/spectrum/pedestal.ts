import { type NoiseModel, noiseVariance } from './noise.ts'
import type { PedestalPrior } from './types.ts'

/** Samples in the running means among which the least signal is sought, and their share at least. */
const LEAST_RUN = 9
const LEAST_RUN_SHARE = 0.01
/** Keeps a fit with no stray light stated finite. */
const LEAST_UNCERTAINTY = 1e-9
const STEPS = 200

/**
 * What an even pedestal may be, before any fit. Stray light only adds, and no more than the least
 * signal there is: a half-normal of the stated root mean square, cut at that least signal. Without
 * a dark spectrum the zero is unknown too: anything from nothing to the least signal.
 *
 * @param net signal, dark taken off where there is one
 * @param peak largest signal, > 0
 * @param strayShare stated root mean square over the peak, >= 0
 * @param noise of the net signal: a weak spectrum hides a pedestal
 */
export function pedestalPrior(
  net: ArrayLike<number>,
  peak: number,
  strayShare: number,
  hasDark: boolean,
  noise: NoiseModel,
): PedestalPrior {
  const least = Math.max(0, leastSignal(net, noise) / peak)
  const stray = cutHalfNormal(strayShare, least)
  if (hasDark) return stray
  return {
    mean: least / 2,
    standardUncertainty: Math.hypot(least / Math.sqrt(12), stray.standardUncertainty),
  }
}

/** The least of many noisy means lies this many standard deviations below what it should be. */
const LEAST_OF_MANY = 3

/** The least running mean, as far as noise lets it be seen: never understated. */
function leastSignal(net: ArrayLike<number>, noise: NoiseModel): number {
  const run = Math.min(net.length, Math.max(LEAST_RUN, Math.ceil(LEAST_RUN_SHARE * net.length)))
  let sum = 0
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < net.length; i++) {
    sum += net[i]!
    if (i >= run) sum -= net[i - run]!
    if (i >= run - 1) least = Math.min(least, sum / run)
  }
  return least + LEAST_OF_MANY * Math.sqrt(noiseVariance(noise, least) / run)
}

/** Mean and standard deviation of |normal| with a given root mean square, cut at a limit. */
function cutHalfNormal(rms: number, limit: number): PedestalPrior {
  const end = Math.min(limit, 6 * rms)
  let weight = 0
  let first = 0
  let second = 0
  for (let i = 0; i < STEPS; i++) {
    const at = (end * (i + 0.5)) / STEPS
    const density = rms > 0 ? Math.exp(-0.5 * (at / rms) ** 2) : 1
    weight += density
    first += density * at
    second += density * at * at
  }
  const mean = first / weight
  const variance = Math.max(0, second / weight - mean * mean)
  // A least signal at zero proves a pedestal of nothing only as far as noise lets it be seen.
  const floor = Math.max(LEAST_UNCERTAINTY, 0.05 * rms)
  return { mean, standardUncertainty: Math.max(floor, Math.sqrt(variance)) }
}
