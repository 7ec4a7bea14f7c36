import { tabulate } from './arrays.ts'
import { resample } from './interpolate.ts'
import type {
  Distrust,
  ExcludedStretch,
  InstrumentResponse,
  TrustedRange,
  WavelengthRange,
} from './types.ts'

/** Largest relative noise of the smoothed response. */
export const MAX_RESPONSE_NOISE = 0.03
/** Largest share of the lamp's signal that stray light may be (one standard uncertainty). */
export const MAX_STRAY = 0.05
/** Largest share of the lamp's signal that second-order light may be. */
export const MAX_SECOND_ORDER = 0.01
/**
 * Steepest response, 1/nm. An edge this steep turns a drift of 0.05 nm into 0.15 % and blurs over
 * the few nanometres that a small instrument resolves.
 */
export const MAX_LOG_SLOPE_PER_NM = 0.03
/**
 * Below this the glass of lamps, lenses and fibres absorbs, in each its own way, and a glow has a few
 * percent of its light at most (common practice; a published filament lamp falls 3 % short of
 * Planck's law at 410 nm, 24 % at 395 nm).
 */
export const GLASS_NM = 415
/** Slopes are taken over this distance on either side, nm. */
const SLOPE_REACH_NM = 2
/** Good stretches closer together than this make one range, with the bad one left out inside. */
const BRIDGE_NM = 10
/** On coarse grids this many steps are bridged. */
const BRIDGE_STEPS = 2.5
/** What a range needs at least. */
const MIN_SAMPLES = 8
const MIN_WIDTH_NM = 30

/** Signs by which each sample of a response is judged. */
export interface Evidence {
  readonly wavelengthNm: ArrayLike<number>
  readonly response: ArrayLike<number>
  /** Relative standard uncertainty of the response by noise. */
  readonly noise: ArrayLike<number>
  readonly strayShare: ArrayLike<number>
  readonly secondOrderShare: ArrayLike<number>
  readonly saturated: ArrayLike<number>
}

/** Relative noise of a response within a range, the middle value; 0 for an empty range. */
export function medianNoise(
  { wavelengthNm, smoothedNoise }: Pick<InstrumentResponse, 'wavelengthNm' | 'smoothedNoise'>,
  { fromNm, toNm }: WavelengthRange,
): number {
  const inside = smoothedNoise.filter(
    (_, i) => wavelengthNm[i]! >= fromNm && wavelengthNm[i]! <= toNm,
  )
  return inside.toSorted((a, b) => a - b)[inside.length >> 1] ?? 0
}

/** Slope of ln(response), 1/nm, over 2 nm on either side; 0 where there is no response. */
export function logSlopes(
  wavelengthNm: ArrayLike<number>,
  response: ArrayLike<number>,
): Float64Array {
  const count = wavelengthNm.length
  const last = wavelengthNm[count - 1]!
  const from = tabulate(count, (i) => Math.max(wavelengthNm[0]!, wavelengthNm[i]! - SLOPE_REACH_NM))
  const to = tabulate(count, (i) => Math.min(last, wavelengthNm[i]! + SLOPE_REACH_NM))
  const low = resample(wavelengthNm, response, from)
  const high = resample(wavelengthNm, response, to)
  return tabulate(count, (i) =>
    low[i]! > 0 && high[i]! > 0 && to[i]! > from[i]!
      ? Math.log(high[i]! / low[i]!) / (to[i]! - from[i]!)
      : 0,
  )
}

/** The reason against each sample, or null. The most serious comes first. */
export function judgeSamples(evidence: Evidence): (Distrust | null)[] {
  const slopes = logSlopes(evidence.wavelengthNm, evidence.response)
  return Array.from(slopes, (slope, i) => {
    if (evidence.wavelengthNm[i]! < GLASS_NM) return 'glass'
    if (evidence.saturated[i] === 1) return 'saturated'
    if (!(evidence.response[i]! > 0 && evidence.noise[i]! <= MAX_RESPONSE_NOISE)) return 'noise'
    if (evidence.strayShare[i]! > MAX_STRAY) return 'stray light'
    if (evidence.secondOrderShare[i]! > MAX_SECOND_ORDER) return 'second order'
    // The slope's own noise must not close the range.
    const slopeNoise = (Math.SQRT2 * evidence.noise[i]!) / (2 * SLOPE_REACH_NM)
    if (Math.abs(slope) - 2 * slopeNoise > MAX_LOG_SLOPE_PER_NM) return 'steep edge'
    return null
  })
}

/**
 * The widest stretch that can be trusted, measured in 1/wavelength (on which temperatures depend).
 * Bad stretches up to 10 nm wide are bridged and left out inside.
 *
 * @returns null when fewer than 8 samples or 30 nm are left
 */
export function findTrustedRange(
  wavelengthNm: ArrayLike<number>,
  verdicts: readonly (Distrust | null)[],
): TrustedRange | null {
  const runs: { first: number; last: number }[] = []
  const count = verdicts.length
  const meanStep = (wavelengthNm[count - 1]! - wavelengthNm[0]!) / Math.max(1, count - 1)
  const bridge = Math.max(BRIDGE_NM, BRIDGE_STEPS * meanStep)
  verdicts.forEach((verdict, i) => {
    if (verdict !== null) return
    const open = runs[runs.length - 1]
    if (open && wavelengthNm[i]! - wavelengthNm[open.last]! <= bridge) open.last = i
    else runs.push({ first: i, last: i })
  })
  const extent = ({ first, last }: { first: number; last: number }) =>
    1 / wavelengthNm[first]! - 1 / wavelengthNm[last]!
  const best = runs.reduce<{ first: number; last: number } | null>(
    (widest, run) => (widest === null || extent(run) > extent(widest) ? run : widest),
    null,
  )
  if (best === null) return null
  const { first, last } = best
  const good = verdicts.slice(first, last + 1).filter((verdict) => verdict === null).length
  if (good < MIN_SAMPLES || wavelengthNm[last]! - wavelengthNm[first]! < MIN_WIDTH_NM) return null
  return {
    fromNm: wavelengthNm[first]!,
    toNm: wavelengthNm[last]!,
    shortEnd: verdicts[first - 1] ?? 'end of data',
    longEnd: verdicts[last + 1] ?? 'end of data',
    excluded: excludedBetween(wavelengthNm, verdicts, first, last),
  }
}

function excludedBetween(
  wavelengthNm: ArrayLike<number>,
  verdicts: readonly (Distrust | null)[],
  first: number,
  last: number,
): ExcludedStretch[] {
  const stretches: { fromNm: number; toNm: number; reason: Distrust }[] = []
  for (let i = first; i <= last; i++) {
    const reason = verdicts[i]
    if (!reason) continue
    const open = stretches[stretches.length - 1]
    if (open && open.reason === reason && verdicts[i - 1] === reason) open.toNm = wavelengthNm[i]!
    else stretches.push({ fromNm: wavelengthNm[i]!, toNm: wavelengthNm[i]!, reason })
  }
  return stretches
}

/** The range that a person sets instead; saturated stretches stay out. */
export function rangeByHand(found: TrustedRange, set: WavelengthRange): TrustedRange {
  return {
    fromNm: set.fromNm,
    toNm: set.toNm,
    shortEnd: set.fromNm === found.fromNm ? found.shortEnd : 'set by hand',
    longEnd: set.toNm === found.toNm ? found.longEnd : 'set by hand',
    excluded: found.excluded,
  }
}
