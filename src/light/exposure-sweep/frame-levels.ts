import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import type { Triple } from '../../numerics/matrix3.ts'
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
  /** Standard deviation of luma, blue and red difference (Y, Cb, Cr), in which JPEG codes. */
  readonly planeScatter: Triple
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
  const planes = [0, 0, 0]
  const planeSquares = [0, 0, 0]
  let [pixels, clipped] = [0, 0]
  for (let y = box.top; y < box.bottom; y++) {
    for (let x = box.left; x < box.right; x++) {
      if (!inRegion(region, x, y)) continue
      pixels++
      let isClipped = false
      const at = 3 * (y * image.width + x)
      const ycc = planesOf(image.codes[at]!, image.codes[at + 1]!, image.codes[at + 2]!)
      for (const c of [0, 1, 2] as const) {
        const code = image.codes[at + c]!
        planes[c]! += ycc[c]
        planeSquares[c]! += ycc[c] * ycc[c]
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
    scatter: each((c) => scatterOf(sum[c]!, squares[c]!, n)),
    planeScatter: each((c) => scatterOf(planes[c]!, planeSquares[c]!, n)),
    clippedShare: clipped / n,
    floorShare: each((c) => floor[c]! / n),
  }
}

/** Y, Cb, Cr of R, G, B, by ITU-T T.871. */
const planesOf = (r: number, g: number, b: number): Triple => {
  const y = 0.299 * r + 0.587 * g + 0.114 * b
  return [y, (b - y) / 1.772, (r - y) / 1.402]
}

/** Standard deviation in codes of 255, of n values in 0..1. */
const scatterOf = (sum: number, squares: number, n: number) =>
  255 * Math.sqrt(Math.max(squares / n - (sum / n) ** 2, 0))

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

/** With noise of a code or more the rounding of single pixels averages away. */
const NOISY: Triple = [1, 1, 1]

/**
 * Standard uncertainty of a mean code from coding: a DC term is 8 times the block's mean, rounding
 * to a step is rectangular, a decoder rounds luma and both colour differences to whole codes before
 * it makes R, G, B of them (ITU-T T.871), and these once more. Even areas without noise have the same
 * error all over, so that averaging does not help.
 */
export function codingUncertainty(
  { luma, chroma }: CodingSteps,
  scatter: Triple,
  planeScatter: Triple = NOISY,
): Triple {
  // Noise averages the rounding of single pixels away, the faster the wider it is (Widrow 1956).
  const rounding = (sd: number) => Math.exp(-2 * (Math.PI * sd) ** 2) / Math.sqrt(12)
  const plane = (step: number, sd: number) => Math.hypot(step / 8 / Math.sqrt(12), rounding(sd))
  const y = plane(luma, planeScatter[0])
  const cb = plane(chroma, planeScatter[1])
  const cr = plane(chroma, planeScatter[2])
  const last = (sd: number) => 0.1 + rounding(sd)
  return [
    Math.hypot(y, 1.402 * cr, last(scatter[0])),
    Math.hypot(y, 0.344 * cb, 0.714 * cr, last(scatter[1])),
    Math.hypot(y, 1.772 * cb, last(scatter[2])),
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
  const coding = codingUncertainty(steps, codes.scatter, codes.planeScatter)
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
