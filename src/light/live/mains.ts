/**
 * The exposure time that holds a whole number of half-cycles of the mains and is nearest to, and
 * not above, the one wanted; lamps pulse at twice the mains frequency, and over whole half-cycles
 * every frame gets the same light. Below one half-cycle the wanted time stays: frames must then be
 * averaged.
 *
 * @param wantedSeconds > 0
 * @param mainsHz 50 or 60
 */
export function wholeHalfCycles(wantedSeconds: number, mainsHz: number): number {
  const half = 1 / (2 * mainsHz)
  const count = Math.floor(wantedSeconds / half + 1e-9)
  return count >= 1 ? count * half : wantedSeconds
}
