/**
 * How far below its brightest unclipped frame a sweep must go, in stops: until red is where green
 * was, log2(R/G), and three stops on, so that several codes are shared.
 *
 * @param lnRed ln of nominal light in the brightest frame, likewise green
 */
export const neededStops = (lnRed: number, lnGreen: number): number =>
  (lnRed - lnGreen) / Math.LN2 + 3
