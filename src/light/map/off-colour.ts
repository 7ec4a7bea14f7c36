import { median, robustSd } from '../../numerics/statistics.ts'

/** Cells further off than this many robust standard deviations ... */
const OUTLYING = 6
/** ... and than this in B/R (a glow of 1200 K has 0.01 to 0.08) have another light mixed in. */
const LEAST_EXCESS = 0.04
const BINS = 12
const LEAST_CELLS = 24

/**
 * Cells whose blue departs from that of the other cells of the same ln(G/R): a window's reflection, a
 * flame. The picture is its own measure, so that a tint of the whole does not count.
 */
export function offColour(lnRatio: Float32Array, blueOverRed: Float32Array): number[] {
  const read: number[] = []
  for (let at = 0; at < lnRatio.length; at++)
    if (Number.isFinite(lnRatio[at]!) && Number.isFinite(blueOverRed[at]!)) read.push(at)
  if (read.length < LEAST_CELLS) return []
  read.sort((a, b) => lnRatio[a]! - lnRatio[b]!)
  const off: number[] = []
  const size = Math.ceil(read.length / Math.min(BINS, Math.floor(read.length / (LEAST_CELLS / 2))))
  for (let from = 0; from < read.length; from += size) {
    const bin = read.slice(from, from + size)
    const values = bin.map((at) => blueOverRed[at]!)
    const centre = median(values)
    const allowed = Math.max(OUTLYING * robustSd(values, centre), LEAST_EXCESS)
    for (const [i, at] of bin.entries()) if (Math.abs(values[i]! - centre) > allowed) off.push(at)
  }
  return off
}
