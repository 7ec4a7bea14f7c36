/** Linear level of the brightest channel that the search aims at: a third of a stop below the top. */
const AIM = 0.75

/**
 * The next exposure in the search for the longest one that clips nothing.
 *
 * @param now relative exposure of the last frame
 * @param level mean linear level of its brightest channel in the glow, 0..1
 * @param clippedShare share of its pixels with a channel at the top
 * @returns the exposure to try next, or null when `now` is it (within a sixth of a stop)
 */
export function nextExposure(
  now: number,
  level: number,
  clippedShare: number,
  [least, most]: readonly [number, number],
): number | null {
  const wanted = clippedShare > 0.001 ? now / 2 : now * Math.min(AIM / Math.max(level, 1e-3), 8)
  const next = Math.min(Math.max(wanted, least), most)
  return Math.abs(Math.log2(next / now)) < 1 / 6 ? null : next
}

/** Exposures of a sweep from the longest downwards in half stops, the first one repeated at the end. */
export function sweepExposures(longest: number, least: number, stops = 7): number[] {
  const list: number[] = []
  for (let k = 0; k <= 2 * stops; k++) {
    const exposure = longest * 2 ** (-k / 2)
    if (exposure >= least) list.push(exposure)
  }
  return [...list, longest]
}
