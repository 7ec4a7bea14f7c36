import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import type { Triple } from '../../colour/vectors.ts'
import type { Region, StoredImage } from '../image.ts'
import { inRegion, pixelBox } from '../region.ts'
import { decodeCode } from '../tone-response.ts'

/** What a region of one frame looks like in stored codes. */
export interface RegionCodes {
  readonly pixels: number
  /** Mean decoded light with the nominal transfer function, 0..1. */
  readonly light: Triple
  /** Mean code and standard deviation of the codes, 0..255. */
  readonly code: Triple
  readonly scatter: Triple
  readonly clippedShare: number
  readonly floorShare: Triple
}

/**
 * @param tops codes (0..1) from which each channel is clipped
 */
export function regionCodes(image: StoredImage, region: Region, tops: Triple): RegionCodes {
  const box = pixelBox(region, image.width, image.height)
  const light = [0, 0, 0]
  const sum = [0, 0, 0]
  const squares = [0, 0, 0]
  const floor = [0, 0, 0]
  let [pixels, clipped] = [0, 0]
  for (let y = box.top; y < box.bottom; y++) {
    for (let x = box.left; x < box.right; x++) {
      if (!inRegion(region, x, y)) continue
      pixels++
      let isClipped = false
      for (const c of [0, 1, 2] as const) {
        const code = image.codes[3 * (y * image.width + x) + c]!
        light[c]! += decodeCode(code)
        sum[c]! += code
        squares[c]! += code * code
        if (code < 0.5 / 255) floor[c]!++
        isClipped ||= code >= tops[c]
      }
      if (isClipped) clipped++
    }
  }
  const n = Math.max(pixels, 1)
  const each = (f: (c: 0 | 1 | 2) => number): Triple => [f(0), f(1), f(2)]
  return {
    pixels,
    light: each((c) => light[c]! / n),
    code: each((c) => (255 * sum[c]!) / n),
    scatter: each((c) => 255 * Math.sqrt(Math.max(squares[c]! / n - (sum[c]! / n) ** 2, 0))),
    clippedShare: clipped / n,
    floorShare: each((c) => floor[c]! / n),
  }
}

/**
 * Steps in which JPEG codes the mean of a block (DC terms of its quantisation tables, luma and
 * chroma); 1 for files without loss. At quality 80 they are 6 and 7, at quality 95 both 2.
 */
export interface CodingSteps {
  readonly luma: number
  readonly chroma: number
}

/** For a file of unknown coding: quality 80. */
export const UNKNOWN_STEPS: CodingSteps = { luma: 6, chroma: 7 }

/**
 * Standard uncertainty of a mean code from coding: a DC term is 8 times the block's mean, rounding
 * to a step is rectangular, and R, G, B follow from luma and chroma by ITU-T T.871. Even areas
 * without noise have the same error all over, so that averaging does not help.
 */
export function codingUncertainty({ luma, chroma }: CodingSteps, scatter: Triple): Triple {
  const y = luma / 8 / Math.sqrt(12)
  const c = chroma / 8 / Math.sqrt(12)
  // Noise averages the rounding of single pixels away, the faster the wider it is (Widrow 1956).
  const rounding = (sd: number) => 0.1 + Math.exp(-2 * (Math.PI * sd) ** 2) / Math.sqrt(12)
  return [
    Math.hypot(y, 1.402 * c, rounding(scatter[0])),
    Math.hypot(y, 0.344 * c, 0.714 * c, rounding(scatter[1])),
    Math.hypot(y, 1.772 * c, rounding(scatter[2])),
  ]
}

/** Noise of neighbouring pixels goes together: one independent sample per 4x4. */
export const PIXELS_PER_SAMPLE = 16
/** Relative departure of real curves from a smooth one. */
const LEAST_UNCERTAINTY = 0.003
/** A channel at the floor in more than this share of the pixels has a mean that reads too high. */
const LARGEST_FLOOR_SHARE = 0.02
/** Below this mean code coding and rounding are all there is. */
const LEAST_CODE = 5

/** ln of the mean light of each channel with its uncertainty; null where too low to say. */
export function nominalLevels(
  codes: RegionCodes,
  steps: CodingSteps = UNKNOWN_STEPS,
): {
  nominal: readonly [number | null, number | null, number | null]
  uncertainty: Triple
} {
  const coding = codingUncertainty(steps, codes.scatter)
  const level = (c: 0 | 1 | 2) =>
    codes.floorShare[c] <= LARGEST_FLOOR_SHARE && codes.code[c] >= LEAST_CODE
      ? Math.log(codes.light[c])
      : null
  const uncertainty = (c: 0 | 1 | 2) => {
    const code = codes.code[c] / 255
    const slope =
      (decodeTransfer(code + 0.5 / 255) - decodeTransfer(code - 0.5 / 255)) /
      Math.max(decodeTransfer(code), 1e-5)
    const noise = codes.scatter[c] / Math.sqrt(Math.max(codes.pixels / PIXELS_PER_SAMPLE, 1))
    return Math.hypot(slope * Math.hypot(coding[c], noise), LEAST_UNCERTAINTY)
  }
  return {
    nominal: [level(0), level(1), level(2)],
    uncertainty: [uncertainty(0), uncertainty(1), uncertainty(2)],
  }
}
