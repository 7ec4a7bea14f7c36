import { median } from '../../numerics/statistics.ts'

/** Depths that are looked at beyond the least margin, pixels: a 16-pixel block of JPEG and some more. */
const LOOKED_AT = 20
/** Cells of a depth that make a mean. */
const LEAST_CELLS = 20
/** Roughness of a depth that is still that of the inside, as a factor on its root mean square. */
const AT_REST = 1.35
/** No more than this share of the greatest depth is given up. */
const MOST_OF_DEPTH = 0.6

/**
 * How deep an outline disturbs the colour, beyond its blur: JPEG rings through the block that holds
 * it, sharpening draws seams. Seen as roughness: second differences of neighbouring cells, which
 * for each depth are held against those further inside.
 *
 * @param lnRatio NaN where not read
 * @param lnNoise usual noise of a cell's level: dark ends are no edges
 * @param depth of each cell's shallowest pixel, pixels
 * @param margin least margin, pixels
 * @returns margin, pixels, not below the least one
 */
export function edgeReach(
  lnRatio: Float32Array,
  lnNoise: Float32Array,
  depth: Float32Array,
  columns: number,
  side: number,
  margin: number,
): number {
  const bins = Math.ceil(LOOKED_AT / side)
  const unrest = new Float64Array(bins + 1)
  const count = new Uint32Array(bins + 1)
  let deepest = 0
  for (let at = columns; at < lnRatio.length - columns; at++) {
    const twice = 2 * lnRatio[at]!
    if (Number.isNaN(twice)) continue
    deepest = Math.max(deepest, depth[at]!)
    const bin = Math.min(Math.floor((depth[at]! - margin) / side), bins)
    for (const away of [1, columns]) {
      const second = lnRatio[at + away]! + lnRatio[at - away]! - twice
      if (Number.isNaN(second)) continue
      unrest[bin]! += (second / lnNoise[at]!) ** 2
      count[bin]!++
    }
  }
  const level = (bin: number) =>
    count[bin]! < LEAST_CELLS ? Number.NaN : Math.sqrt(unrest[bin]! / count[bin]!)
  const known = Array.from({ length: bins + 1 }, (_, bin) => level(bin)).filter(Number.isFinite)
  const inner = known.slice(known.length >> 1)
  if (inner.length === 0) return margin
  const calm = median(inner)
  let from = 0
  for (let bin = 0; bin < bins; bin++) if (level(bin) > AT_REST * calm) from = bin + 1
  return Math.max(margin, Math.min(margin + from * side, MOST_OF_DEPTH * deepest))
}
