import { subtract } from './background-ring.ts'
import type { LightImage, LinearColour, Region } from './image.ts'
import { measurePatch } from './patch.ts'

/** A part of the region with its colour, background taken off. */
export interface Part {
  readonly region: Region
  readonly colour: LinearColour
}

/** How even the colour of the glow is over its region. */
export interface Unevenness {
  /** Standard deviation of ln(G/R) over the parts beyond their noise; 0 where noise explains it. */
  readonly lnGreenOverRedSd: number
  /** Standard deviation of ln R over the parts: level, which also geometry and scale change. */
  readonly lnRedSd: number
  /** Parts with the highest and the lowest G/R; null where too few parts could be measured. */
  readonly hottest: Part | null
  readonly coolest: Part | null
  readonly parts: number
}

/** Parts along the longer side; along the shorter as many as stay about square. */
const PARTS = 8
const LEAST_PART_PIXELS = 6

/**
 * Measures the parts of a region one by one.
 *
 * The extremes of noisy values are no extremes of the glow: each part's ln(G/R) is drawn towards
 * the mean in proportion to its noise (James & Stein 1961) before the hottest is chosen, so a noisy
 * corner does not win.
 */
export function measureUnevenness(
  image: LightImage,
  region: Region,
  background: LinearColour | null,
): Unevenness {
  const parts = partsOf(region).flatMap((part) => {
    const patch = measurePatch(image, part)
    if (patch.refusal !== null || patch.pixels < 0.5 * part.width * part.height) return []
    const colour = background ? subtract(patch.colour, background) : patch.colour
    const [r, g] = colour.mean
    if (!(r > 0 && g > 0)) return []
    // Noise alone: background and code step are common to all parts.
    const noise = (patch.scatter[0] / r) ** 2 + (patch.scatter[1] / g) ** 2
    return [
      { part, colour, ratio: Math.log(g / r), red: Math.log(r), variance: noise / patch.samples },
    ]
  })
  const n = parts.length
  if (n < 4) return { lnGreenOverRedSd: 0, lnRedSd: 0, hottest: null, coolest: null, parts: n }
  const mean = parts.reduce((sum, p) => sum + p.ratio, 0) / n
  const redMean = parts.reduce((sum, p) => sum + p.red, 0) / n
  const total = parts.reduce((sum, p) => sum + (p.ratio - mean) ** 2, 0) / (n - 1)
  const noise = parts.reduce((sum, p) => sum + p.variance, 0) / n
  const own = Math.max(total - noise, 0)
  const drawn = (p: (typeof parts)[number]) =>
    own > 0 ? ((p.ratio - mean) * own) / (own + p.variance) : 0
  const sorted = [...parts].sort((a, b) => drawn(a) - drawn(b))
  const partAt = (i: number): Part => ({ region: sorted[i]!.part, colour: sorted[i]!.colour })
  return {
    lnGreenOverRedSd: Math.sqrt(own),
    lnRedSd: Math.sqrt(parts.reduce((sum, p) => sum + (p.red - redMean) ** 2, 0) / (n - 1)),
    hottest: partAt(n - 1),
    coolest: partAt(0),
    parts: n,
  }
}

function partsOf(region: Region): Region[] {
  const longest = Math.max(region.width, region.height)
  const size = Math.max(LEAST_PART_PIXELS, longest / PARTS)
  const columns = Math.max(1, Math.floor(region.width / size + 0.25))
  const rows = Math.max(1, Math.floor(region.height / size + 0.25))
  const width = region.width / columns
  const height = region.height / rows
  const parts: Region[] = []
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = region.x + column * width
      const y = region.y + row * height
      const u = (2 * (x + width / 2 - region.x)) / region.width - 1
      const v = (2 * (y + height / 2 - region.y)) / region.height - 1
      if (region.shape === 'ellipse' && u * u + v * v > 0.8) continue
      parts.push({ shape: 'rectangle', x, y, width, height })
    }
  }
  return parts
}
