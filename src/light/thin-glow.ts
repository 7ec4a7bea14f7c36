import type { Triple } from '../numerics/matrix3.ts'
import { median } from '../numerics/statistics.ts'
import type { LightImage, Region } from './image.ts'
import { inRegion, pixelBox } from './region.ts'

/**
 * Narrower than this, and a file with colour at half resolution has no pure glow colour left in it.
 *
 * Bars of known width through JPEG at half colour resolution, rms error of ln(G/R): 2 pixels 0.8
 * (300 K at 1173 K), 4 pixels 0.2, 6 and 8 pixels 0.07 to 0.09 (30 K), from 9 pixels on below 0.05,
 * 24 pixels 0.01; at full colour resolution 0.01 for any width (see the tests).
 */
export const THIN_PIXELS = 9

const DIRECTIONS = [
  { dx: 1, dy: 0, step: 1 },
  { dx: 0, dy: 1, step: 1 },
  { dx: 1, dy: 1, step: Math.SQRT2 },
  { dx: 1, dy: -1, step: Math.SQRT2 },
] as const

/**
 * Narrowest extent of the glow under a region, pixels: the median run of pixels above half of the
 * region's red level, in the narrowest of four directions (up to 8 % too wide for slopes between).
 *
 * @param glow mean linear colour of the region
 * @returns 0 where no pixel of the region reaches half of the level
 */
export function glowWidthPixels(image: LightImage, region: Region, glow: Triple): number {
  const { width, height, rgb } = image
  const half = glow[0] / 2
  const glows = (x: number, y: number) =>
    x >= 0 && y >= 0 && x < width && y < height && rgb[3 * (y * width + x)]! > half
  const box = pixelBox(region, width, height)
  // Some 400 starting points are plenty for a median.
  const area = Math.max((box.right - box.left) * (box.bottom - box.top), 1)
  const stride = Math.max(1, Math.floor(Math.sqrt(area / 400)))
  const runs: number[][] = DIRECTIONS.map(() => [])
  for (let y = box.top; y < box.bottom; y += stride) {
    for (let x = box.left; x < box.right; x += stride) {
      if (!inRegion(region, x, y) || !glows(x, y)) continue
      DIRECTIONS.forEach(({ dx, dy, step }, i) => {
        let run = 1
        for (let k = 1; glows(x + k * dx, y + k * dy); k++) run++
        for (let k = 1; glows(x - k * dx, y - k * dy); k++) run++
        runs[i]!.push(run * step)
      })
    }
  }
  return runs[0]!.length === 0 ? 0 : Math.min(...runs.map((r) => median(r)))
}

/** Whether the colour of the glow is smeared by the file's halved colour resolution. */
export function isThin(widthPixels: number, chromaSubsampled: boolean): boolean {
  return chromaSubsampled && widthPixels < THIN_PIXELS
}
