import { normalCdf, normalDensity, normalQuantile } from '../numerics/heavy-tails.ts'
import type { Matrix3, Triple } from '../numerics/matrix3.ts'
import { addMatrices, meanOuterProduct } from '../numerics/statistics.ts'
import type { LightImage, LinearColour, Region } from './image.ts'
import { type BlockMean, blockMeans, blockPlace } from './patch.ts'
import { grown, pixelBox } from './region.ts'

/** Light around the glow: black level, veiling glare, lamps, daylight, flames. */
export interface Background {
  readonly colour: LinearColour
  /** Background over what is left of the glow after subtracting it, each channel; finite. */
  readonly share: Triple
  /** Its ln(G/R) and ln(B/R) less those of the glow; null where it is too dark to have a colour. */
  readonly tint: { readonly greenOverRed: number; readonly blueOverRed: number } | null
  readonly pixels: number
}

const BLOCK = 8
/** Blocks that a background rests on at least. */
const LEAST_BLOCKS = 6
/** A block is glow, not background, from this share of the region's red on ... */
const GLOW_LEVEL = 0.25
/** ... where its colour is the glow's, as ln(G/R) within this. */
const GLOW_COLOUR = 0.7
/** Less than this left of a glow, linear, is nothing: surroundings can be bluer than it. */
const LEAST_LEFT = 1e-6
/** Share of the blocks trimmed at each end before the mean. */
const TRIM = 0.2
/**
 * The surroundings are not what lies in front of the glow or reflects from it: between half and
 * one and a half times the background is taken off, rectangular, sd 0.5/sqrt(3).
 */
export const RELATIVE_UNCERTAINTY = 0.29

/**
 * Mean light of the dark surroundings of a region, or null where the picture shows none.
 *
 * Blocks in a ring around the region that hold no glow and touch none (blur, halo and halved
 * colour reach over an edge); the ring widens until there are enough. The mean of the middle 60 %
 * of the blocks: codes near 0 are lopsided, so a median would read low. Clipped blocks count as
 * lamps in view and are left out.
 */
export function measureBackground(
  image: LightImage,
  region: Region,
  glow: Triple,
): Background | null {
  const side = Math.min(region.width, region.height)
  const longest = Math.max(image.width, image.height)
  let margin = Math.max(24, side / 2)
  let blocks = darkBlocks(image, region, glow, margin)
  while (blocks.length < LEAST_BLOCKS && margin < longest) {
    margin *= 2
    blocks = darkBlocks(image, region, glow, margin)
  }
  if (blocks.length < LEAST_BLOCKS) return null
  const kept = trimmed(blocks)
  const n = kept.length
  const pixels = kept.reduce((sum, b) => sum + b.pixels, 0)
  const cut: Triple = [0, 1, 2].map(
    (c) => kept.reduce((sum, b) => sum + b.mean[c]!, 0) / n,
  ) as unknown as Triple
  const mean: Triple = [0, 1, 2].map((c) => {
    const atFloor = kept.reduce((sum, b) => sum + b.floor[c]!, 0) / pixels
    return cut[c]! * shareOfCutMean(atFloor)
  }) as unknown as Triple
  const scatter = meanOuterProduct(
    kept.map(({ mean: m }) => [m[0] - mean[0], m[1] - mean[1], m[2] - mean[2]]),
    // One independent sample per 16x16 pixels, as in the patch.
    1 / Math.max(1, n / 4),
  )
  const takenBack: Triple = [cut[0] - mean[0], cut[1] - mean[1], cut[2] - mean[2]]
  const covariance = addMatrices(
    scatter,
    meanOuterProduct([mean], RELATIVE_UNCERTAINTY * RELATIVE_UNCERTAINTY),
    meanOuterProduct([takenBack], CUT_UNCERTAINTY * CUT_UNCERTAINTY),
  )
  const share = (c: 0 | 1 | 2) => mean[c] / Math.max(glow[c] - mean[c], LEAST_LEFT)
  return {
    colour: { mean, covariance },
    share: [share(0), share(1), share(2)],
    tint: tintOf(mean, scatter, glow),
    pixels,
  }
}

/** Noise is not quite normal, and a code is a step. */
const CUT_UNCERTAINTY = 0.25
/** Less than this at the floor tells nothing; the mean is then right to a hundredth. */
const FEW_AT_FLOOR = 0.02

/**
 * What is left of a mean when the noise that was cut off at the floor is counted again. Normal noise
 * about m, cut at 0: a share p = F(-m/s) lies there, and the mean of all is m F(m/s) + s f(m/s).
 * Without this black, whose noise only shows upwards, is taken off the glow as if it were light.
 *
 * @param atFloor share of the pixels at the floor, 0..1
 */
function shareOfCutMean(atFloor: number): number {
  if (atFloor < FEW_AT_FLOOR) return 1
  if (atFloor >= 0.5) return 0
  const z = -normalQuantile(atFloor)
  return z / (z * normalCdf(z) + normalDensity(z, 1))
}

/** The glow without its background; covariances add (JCGM 102, 6.2.1.3). */
export function subtract(glow: LinearColour, background: LinearColour): LinearColour {
  const [a, b] = [glow.mean, background.mean]
  return {
    mean: [a[0] - b[0], a[1] - b[1], a[2] - b[2]],
    covariance: addMatrices(glow.covariance, background.covariance),
  }
}

function darkBlocks(image: LightImage, region: Region, glow: Triple, margin: number): BlockMean[] {
  const outer: Region = { ...grown(region, margin), shape: 'rectangle' }
  const box = pixelBox(outer, image.width, image.height)
  const inner = pixelBox(grown(region, Math.max(4, 0.1 * margin)), image.width, image.height)
  const { blocks } = blockMeans(image, outer, box, BLOCK)
  const glowRatio = Math.log(glow[1] / glow[0])
  const glowing = new Set<number>()
  for (const b of blocks) {
    const [r, g] = b.mean
    const alike = !(glow[1] > 0) || Math.abs(Math.log(g / r) - glowRatio) < GLOW_COLOUR
    if (b.pixels === 0 || (r >= GLOW_LEVEL * glow[0] && alike))
      glowing.add(blockPlace(b.column, b.row))
  }
  return blocks.filter(({ column, row, pixels }) => {
    if (pixels === 0) return false
    const left = box.left + column * BLOCK
    const top = box.top + row * BLOCK
    const apart =
      left >= inner.right ||
      left + BLOCK <= inner.left ||
      top >= inner.bottom ||
      top + BLOCK <= inner.top
    if (!apart) return false
    for (let dy = -1; dy <= 1; dy++)
      for (let dx = -1; dx <= 1; dx++)
        if (glowing.has(blockPlace(column + dx, row + dy))) return false
    return true
  })
}

function trimmed(blocks: readonly BlockMean[]): BlockMean[] {
  const sum = (b: BlockMean) => b.mean[0] + b.mean[1] + b.mean[2]
  const sorted = [...blocks].sort((a, b) => sum(a) - sum(b))
  const cut = Math.floor(TRIM * sorted.length)
  return sorted.slice(cut, sorted.length - cut)
}

function tintOf(mean: Triple, scatter: Matrix3, glow: Triple): Background['tint'] {
  const visible = ([0, 1, 2] as const).every((c) => mean[c] > 3 * Math.sqrt(scatter[c][c]))
  const [r, g, b] = [mean[0] / glow[0], mean[1] / glow[1], mean[2] / glow[2]]
  if (!visible || !(r > 0 && g > 0 && b > 0)) return null
  return { greenOverRed: Math.log(g / r), blueOverRed: Math.log(b / r) }
}
