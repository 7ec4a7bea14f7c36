import { type NoiseModel, noiseVariance } from './noise.ts'
import type { PedestalPrior } from './types.ts'

/** Samples in the running means among which the least signal is sought, and their share at least. */
const LEAST_RUN = 9
const LEAST_RUN_SHARE = 0.01
/** Keeps a fit with no stray light stated finite. */
const LEAST_UNCERTAINTY = 1e-9
/**
 * What the dark level moves until the light is recorded, either way: share of the stray light, and of
 * the noise of one sample (common practice for uncooled arrays). None where no stray light is stated.
 */
const DRIFT_OF_STRAY = 0.1
const DRIFT_OF_NOISE = 0.3
/** How far a pedestal tilts over the used range, as a share of itself at either end: one standard. */
const UNEVEN = 0.3
const STEPS = 400

/**
 * What an even pedestal may be, before any fit. Stray light only adds, and no more than the least
 * signal there is: a half-normal of the stated root mean square, cut at that least signal. The dark
 * drifts either way. Without a dark spectrum the zero is unknown too: anything from nothing to the
 * least signal.
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
  const found = leastSignal(net, noise) / peak
  if (hasDark) {
    const drift =
      strayShare > 0
        ? Math.hypot(DRIFT_OF_STRAY * strayShare, (DRIFT_OF_NOISE * Math.sqrt(noise.floor)) / peak)
        : 0
    return cutSplitNormal(Math.hypot(strayShare, drift), drift, found)
  }
  const least = Math.max(0, found)
  const stray = cutSplitNormal(strayShare, 0, least)
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

/**
 * Mean and standard deviation of a normal distribution with another root mean square on either side of
 * nothing, cut at a limit above.
 */
function cutSplitNormal(above: number, below: number, limit: number): PedestalPrior {
  const end = Math.min(limit, 6 * above)
  const start = Math.min(0, end) - 6 * below
  let weight = 0
  let first = 0
  let second = 0
  for (let i = 0; i < STEPS; i++) {
    const at = start + ((end - start) * (i + 0.5)) / STEPS
    const spread = at > 0 ? above : below
    // Far below nothing only the distance to the limit counts: the densities themselves underflow.
    const from = Math.min(end, 0)
    const density = spread > 0 ? Math.exp((-0.5 * (at ** 2 - from ** 2)) / spread ** 2) : 1
    weight += density
    first += density * at
    second += density * at * at
  }
  const mean = first / weight
  const variance = Math.max(0, second / weight - mean * mean)
  // A least signal at zero proves a pedestal of nothing only as far as noise lets it be seen.
  const floor = Math.max(LEAST_UNCERTAINTY, 0.05 * above)
  return { mean, standardUncertainty: Math.max(floor, Math.sqrt(variance)) }
}

/** Standard uncertainty of a pedestal's tilt, in the pedestal's own unit. */
export const unevenness = ({ mean, standardUncertainty }: PedestalPrior): number =>
  UNEVEN * Math.hypot(mean, standardUncertainty)

/** How a tilted pedestal runs over rising wavelengths: from -1 to 1. */
export function tiltOver(nm: Float64Array): Float64Array {
  const first = nm[0]!
  const middle = (first + nm[nm.length - 1]!) / 2
  return nm.map((at) => (at - middle) / (middle - first))
}
