import { decodeTransfer, encodeTransfer } from '../colour/rgb-spaces.ts'
import { diagonal, type Matrix3, type Triple } from '../numerics/matrix3.ts'
import {
  addMatrices,
  meanOuterProduct,
  meanTriple,
  median,
  robustSd,
} from '../numerics/statistics.ts'
import { type CodingSteps, codingUncertainty } from './exposure-sweep/frame-levels.ts'
import {
  CLIPPED,
  FLOOR_BLUE,
  FLOOR_GREEN,
  FLOOR_RED,
  type LightImage,
  type LinearColour,
  type Region,
} from './image.ts'
import { inRegion, type PixelBox, pixelBox } from './region.ts'

/** More clipped pixels than this share and a region gets no number. */
export const LARGEST_CLIPPED_SHARE = 0.01
/** A region of fewer pixels than this says nothing about its own noise. */
export const LEAST_PIXELS = 16
/**
 * Lattice of independent samples, pixels. JPEG with halved colour codes 16x16 pixels together,
 * demosaicing and noise filters reach over fewer: one independent sample per 16x16 pixels.
 */
const SAMPLE_PIXELS = 16
const BLOCK_PIXELS = 8
/** Blocks further than this many robust standard deviations from the median are left out. */
const OUTLYING = 4
/**
 * Standard uncertainty of a mean from whole codes, in codes, where a file's steps are not known:
 * 1/sqrt(12) = 0.29 for rounding to 8 bits without noise to dither it; the colour steps of JPEG at
 * quality 80 (7 or 8 in the DC term, which is 8 times the mean: 0.25) are no larger.
 */
const CODE_STEP = 0.3
const UNKNOWN: Triple = [CODE_STEP, CODE_STEP, CODE_STEP]

/** Robust statistics of a region in linear light. */
export interface Patch {
  readonly colour: LinearColour
  /** Standard deviation of single pixels, linear. */
  readonly scatter: Triple
  /** Pixels in the region, and those the mean rests on. */
  readonly pixels: number
  readonly usedPixels: number
  /** Independent samples among them. */
  readonly samples: number
  /** Shares of the region's pixels, 0..1. */
  readonly clippedShare: number
  readonly floorShare: Triple
  /** Why there is no number; null when there is one. */
  readonly refusal: 'empty' | 'too small' | 'clipped' | null
}

/** Mean over a block of pixels, with its place on the block grid. */
export interface BlockMean {
  readonly column: number
  readonly row: number
  readonly pixels: number
  readonly mean: Triple
  /** Pixels whose red, green, blue is at the floor. */
  readonly floor: Triple
}

/** A block's place as one number; no picture has so many columns. */
export const blockPlace = (column: number, row: number): number => row * 65536 + column

interface Counts {
  pixels: number
  clipped: number
  floor: [number, number, number]
}

/**
 * Mean linear colour of a region with the covariance of that mean.
 *
 * Blocks of 8x8 pixels (smaller in small regions) are averaged, blocks far from the median in any
 * channel (scale, a scratch, a spark) are left out on both sides and in all channels at once, so
 * that the ratio of the channels keeps its meaning.
 *
 * Clipped pixels: leaving out only the pixels that reach the top takes the bright half of the noise
 * away and reads red too low. Whole blocks that contain one are left out instead: which blocks
 * those are hardly depends on their mean. Where less than half of the blocks is clean, or more than
 * {@link LARGEST_CLIPPED_SHARE} of the pixels is clipped, the whole region stands too near the top
 * and is refused.
 * Floor pixels stay in: without them the mean of what is left would be too high. The mean of a
 * channel with many of them is an upper bound.
 *
 * Covariance of the mean: from the differences of blocks 16 pixels apart, so that a slow gradient
 * of the glow does not count as noise, with one independent sample per 16x16 pixels; plus the step
 * of the codes. It is about this region's mean; unevenness is told apart (see unevenness).
 *
 * @param steps by which the file coded its codes
 */
export function measurePatch(
  image: LightImage,
  region: Region,
  steps: CodingSteps | null = null,
): Patch {
  const box = pixelBox(region, image.width, image.height)
  const side = Math.min(box.right - box.left, box.bottom - box.top)
  const block = Math.min(BLOCK_PIXELS, Math.max(1, Math.floor(side / 3)))
  const { blocks, counts } = blockMeans(image, region, box, block)
  const clean = blocks.filter((b) => b.pixels > 0)
  const clippedShare = counts.clipped / Math.max(counts.pixels, 1)
  const floor = (c: 0 | 1 | 2) => counts.floor[c] / Math.max(counts.pixels, 1)
  const usedBlocks = leaveOutlyingBlocks(clean)
  const usedPixels = usedBlocks.reduce((sum, b) => sum + b.pixels, 0)
  const refusal =
    counts.pixels === 0
      ? 'empty'
      : clippedShare > LARGEST_CLIPPED_SHARE || clean.length < blocks.length / 2
        ? 'clipped'
        : counts.pixels < LEAST_PIXELS
          ? 'too small'
          : null
  const mean = weightedMean(usedBlocks)
  const samples = Math.max(1, usedPixels / SAMPLE_PIXELS ** 2)
  const noise = blockNoise(usedBlocks, Math.max(1, Math.round(SAMPLE_PIXELS / block)))
  const scatter = pixelScatter(image, region, box, mean)
  const covariance = addMatrices(
    scaled(noise, 1 / samples),
    image.channels === 'display-p3'
      ? codeStepCovariance(mean, scatter, steps)
      : diagonal([0, 0, 0]),
  )
  return {
    colour: { mean, covariance },
    scatter,
    pixels: counts.pixels,
    usedPixels,
    samples,
    clippedShare,
    floorShare: [floor(0), floor(1), floor(2)],
    refusal,
  }
}

/**
 * Means over blocks of the region in its pixel box; a block that holds a clipped pixel is returned
 * with `pixels: 0`. Blocks of which less than half lies in the region are not counted as blocks.
 */
export function blockMeans(
  image: LightImage,
  region: Region,
  box: PixelBox,
  block: number,
): { blocks: BlockMean[]; counts: Counts } {
  const counts: Counts = { pixels: 0, clipped: 0, floor: [0, 0, 0] }
  const blocks: BlockMean[] = []
  const { flags, rgb, width } = image
  const fillsBox = region.shape === 'rectangle'
  for (let top = box.top, row = 0; top < box.bottom; top += block, row++) {
    for (let left = box.left, column = 0; left < box.right; left += block, column++) {
      let [r, g, b, n, clipped] = [0, 0, 0, 0, 0]
      const floor: [number, number, number] = [0, 0, 0]
      const bottom = Math.min(top + block, box.bottom)
      const right = Math.min(left + block, box.right)
      for (let y = top; y < bottom; y++) {
        for (let x = left; x < right; x++) {
          if (!(fillsBox || inRegion(region, x, y))) continue
          const p = y * width + x
          const flag = flags[p]!
          n++
          if (flag !== 0) {
            if (flag & CLIPPED) clipped++
            if (flag & FLOOR_RED) floor[0]++
            if (flag & FLOOR_GREEN) floor[1]++
            if (flag & FLOOR_BLUE) floor[2]++
          }
          r += rgb[3 * p]!
          g += rgb[3 * p + 1]!
          b += rgb[3 * p + 2]!
        }
      }
      counts.pixels += n
      counts.clipped += clipped
      for (let c = 0; c < 3; c++) counts.floor[c]! += floor[c]!
      if (2 * n < block * block) continue
      const pixels = clipped > 0 ? 0 : n
      blocks.push({ column, row, pixels, mean: [r / n, g / n, b / n], floor })
    }
  }
  return { blocks, counts }
}

function leaveOutlyingBlocks(blocks: readonly BlockMean[]): BlockMean[] {
  if (blocks.length < 8) return [...blocks]
  const limits = ([0, 1, 2] as const).map((c) => {
    const values = blocks.map((b) => b.mean[c])
    const centre = median(values)
    return { centre, allowed: OUTLYING * robustSd(values, centre) }
  })
  const kept = blocks.filter((b) =>
    limits.every(({ centre, allowed }, c) => Math.abs(b.mean[c]! - centre) <= allowed),
  )
  // Flat pictures have no spread at all in half of their blocks; nothing outlies there.
  return kept.length >= blocks.length / 2 ? kept : [...blocks]
}

function weightedMean(blocks: readonly BlockMean[]): Triple {
  let [r, g, b, n] = [0, 0, 0, 0]
  for (const { mean, pixels } of blocks) {
    r += mean[0] * pixels
    g += mean[1] * pixels
    b += mean[2] * pixels
    n += pixels
  }
  return n > 0 ? [r / n, g / n, b / n] : [0, 0, 0]
}

/**
 * Covariance of one block mean without slow gradients: half the mean squared difference of blocks
 * `lag` apart along rows and columns (von Neumann 1941).
 */
function blockNoise(blocks: readonly BlockMean[], lag: number): Matrix3 {
  const place = new Map(blocks.map((b) => [blockPlace(b.column, b.row), b.mean]))
  for (let step = lag; step >= 1; step--) {
    const differences: Triple[] = []
    for (const { column, row, mean } of blocks) {
      for (const other of [
        place.get(blockPlace(column + step, row)),
        place.get(blockPlace(column, row + step)),
      ]) {
        if (other) differences.push([other[0] - mean[0], other[1] - mean[1], other[2] - mean[2]])
      }
    }
    if (differences.length >= 4) return meanOuterProduct(differences, 0.5)
  }
  // Too few blocks for differences: their spread about the mean, gradient and all.
  const centre = meanTriple(blocks.map((b) => b.mean))
  const n = blocks.length
  return meanOuterProduct(
    blocks.map(({ mean: m }) => [m[0] - centre[0], m[1] - centre[1], m[2] - centre[2]]),
    n > 1 ? n / (n - 1) : 1,
  )
}

function codeStepCovariance(mean: Triple, scatter: Triple, steps: CodingSteps | null): Matrix3 {
  /** Light of one code step there. */
  const slope = (linear: number) => {
    const code = encodeTransfer(Math.max(linear, 0))
    return (decodeTransfer(code + 0.5 / 255) - decodeTransfer(code - 0.5 / 255)) * 255
  }
  const slopes: Triple = [slope(mean[0]), slope(mean[1]), slope(mean[2])]
  const codes = (c: 0 | 1 | 2) => (255 * scatter[c]) / slopes[c]
  const noise: Triple = [codes(0), codes(1), codes(2)]
  const least = Math.min(...noise)
  const step: Triple = steps ? codingUncertainty(steps, noise, [least, least, least]) : UNKNOWN
  const variance = (c: 0 | 1 | 2) => ((slopes[c] * step[c]) / 255) ** 2
  return diagonal([variance(0), variance(1), variance(2)])
}

function pixelScatter(image: LightImage, region: Region, box: PixelBox, mean: Triple): Triple {
  const { flags, rgb, width } = image
  const fillsBox = region.shape === 'rectangle'
  let [rr, gg, bb, n] = [0, 0, 0, 0]
  for (let y = box.top; y < box.bottom; y++) {
    for (let x = box.left; x < box.right; x++) {
      const p = y * width + x
      if (flags[p]! & CLIPPED || !(fillsBox || inRegion(region, x, y))) continue
      n++
      rr += (rgb[3 * p]! - mean[0]) ** 2
      gg += (rgb[3 * p + 1]! - mean[1]) ** 2
      bb += (rgb[3 * p + 2]! - mean[2]) ** 2
    }
  }
  const sd = (squares: number) => Math.sqrt(squares / Math.max(n - 1, 1))
  return [sd(rr), sd(gg), sd(bb)]
}

const scaled = (m: Matrix3, factor: number): Matrix3 => {
  const row = (r: Triple): Triple => [r[0] * factor, r[1] * factor, r[2] * factor]
  return [row(m[0]), row(m[1]), row(m[2])]
}
