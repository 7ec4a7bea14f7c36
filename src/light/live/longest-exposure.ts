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

/**
 * Steps above the longest exposure, stops: they climb the shoulder until something clips. Cut to whole
 * half-cycles of the mains it may lie a stop below what would still not clip.
 */
const ABOVE = [0.25, 0.5, 0.75, 1, 1.25, 1.5] as const

/**
 * Exposures of a sweep in the order of taking: the longest without clipping, up the shoulder of the
 * tone curve (frames that clip are left out by the sweep; the last one that does not tells the
 * kinds of curve apart), down in half stops, and the first one again, so that drift shows.
 *
 * @param longest relative exposure within the range
 * @param range what the camera can be set to
 */
export function sweepExposures(
  longest: number,
  [least, most]: readonly [number, number],
  stops = 7,
): number[] {
  const above = ABOVE.map((stop) => longest * 2 ** stop)
  const below = Array.from({ length: 2 * stops }, (_, k) => longest * 2 ** (-(k + 1) / 2))
  const settable = [...above, ...below].filter((exposure) => exposure >= least && exposure <= most)
  return [longest, ...settable, longest]
}
