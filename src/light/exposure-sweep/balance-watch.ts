/**
 * Whether a white balance that was thought locked has moved during a sweep: what lies around the glow and
 * does not glow keeps its colour from photo to photo, if the balance does.
 */
import type { Region, StoredImage } from '../image.ts'
import { cardGains } from './card-gains.ts'
import type { CodingSteps } from './frame-levels.ts'
import type { Response } from './response.ts'

/** Pixels from the region on which its own light has ended. */
const AWAY = 24
/** Pixels that are enough to know their mean colour, and how many are looked at of many more. */
const LEAST_PIXELS = 400
const MOST_PIXELS = 40_000
/** Surroundings darker than this code (0..1) show black level and coding, not their colour. */
const LEAST_CODE = 0.15
/** Change of ln(G/R) that a locked balance does not make, in itself and in standard uncertainties. */
const MOVED = 0.06
const MOVED_SD = 4

/**
 * Largest change of ln(G/R) of the surroundings between two photos; 0 where they stood still or are too
 * dark or too bright to say.
 *
 * @param places the region as it lies in each frame
 */
export function balanceMoved(
  frames: readonly { readonly image: StoredImage }[],
  places: readonly { readonly region: Region }[],
  steps: CodingSteps,
  response: Response,
): number {
  const around = frames.map(({ image }, k) => surroundings(image, places[k]!.region))
  const seen = around.flatMap((pixels) => pixels ?? [])
  if (seen.length < 2) return 0
  const gains = cardGains(seen, 0, steps, response).flatMap((gain) => gain ?? [])
  if (gains.length < 2) return 0
  const lowest = gains.reduce((a, b) => (b.lnGain[0] < a.lnGain[0] ? b : a))
  const highest = gains.reduce((a, b) => (b.lnGain[0] > a.lnGain[0] ? b : a))
  const change = highest.lnGain[0] - lowest.lnGain[0]
  const sd = Math.hypot(highest.uncertainty[0], lowest.uncertainty[0])
  return change > Math.max(MOVED, MOVED_SD * sd) ? change : 0
}

/** Pixels away from the region, evenly spread, as a picture of one row; null where they are few or dark. */
function surroundings(image: StoredImage, region: Region): StoredImage | null {
  const { width, height, codes } = image
  const within = (at: number, from: number, size: number) =>
    at > from - AWAY && at < from + size + AWAY
  const step = Math.max(1, Math.ceil(Math.sqrt((width * height) / MOST_PIXELS)))
  const kept: number[] = []
  const sum: [number, number, number] = [0, 0, 0]
  for (let y = 0; y < height; y += step)
    for (let x = 0; x < width; x += step) {
      if (within(x, region.x, region.width) && within(y, region.y, region.height)) continue
      const at = 3 * (y * width + x)
      for (const c of [0, 1, 2] as const) {
        kept.push(codes[at + c]!)
        sum[c] += codes[at + c]!
      }
    }
  const pixels = kept.length / 3
  if (pixels < LEAST_PIXELS || Math.min(...sum) < LEAST_CODE * pixels) return null
  return { ...image, width: pixels, height: 1, codes: Float32Array.from(kept) }
}
