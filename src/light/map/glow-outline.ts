import { median } from '../../numerics/statistics.ts'
import type { LightImage } from '../image.ts'

/** Where a picture glows, how sharply it shows the outline, and how deep inside each pixel lies. */
export interface GlowOutline {
  /**
   * Distance of each pixel to the nearest one that does not glow, pixels; 0 where it does not glow.
   * Beyond the picture's edge the glow is taken to go on: its outline is not there.
   */
  readonly depth: Float32Array
  /** Standard deviation of the blur across the outline, pixels; NaN where no outline is seen. */
  readonly blurPixels: number
}

/**
 * Share of the brightest red near by from which on a pixel glows. Within a piece red (634 nm) falls to 0.07
 * over 150 K at 1050 K, and to 0.11 at 1173 K; across an outline it falls to nothing.
 */
const GLOW_SHARE = 0.06
/** How far outside of the half level the share above lies, in standard deviations of the blur. */
export const OUTLINE_OUTSIDE = 1.555
/** "Near by": blocks of so many pixels and their neighbours. */
const NEAR = 16
/** Outline points that are looked at, about. */
const POINTS = 2000
/** Fewer say nothing. */
const LEAST_POINTS = 12

/** @param darkest linear red that is no glow, whatever is near by */
export function glowOutline(light: LightImage, darkest: number): GlowOutline {
  const inside = glowing(light, darkest)
  return {
    depth: depthInside(inside, light.width, light.height),
    blurPixels: edgeBlur(light, inside),
  }
}

function glowing({ width, height, rgb }: LightImage, darkest: number): Uint8Array {
  const columns = Math.ceil(width / NEAR)
  const rows = Math.ceil(height / NEAR)
  const peak = new Float32Array(columns * rows)
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.floor(y / NEAR) * columns
    for (let x = 0; x < width; x++, i += 3) {
      const block = row + Math.floor(x / NEAR)
      if (rgb[i]! > peak[block]!) peak[block] = rgb[i]!
    }
  }
  const least = new Float32Array(columns * rows)
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      let top = 0
      for (let v = Math.max(row - 1, 0); v <= Math.min(row + 1, rows - 1); v++)
        for (let u = Math.max(column - 1, 0); u <= Math.min(column + 1, columns - 1); u++)
          top = Math.max(top, peak[v * columns + u]!)
      least[row * columns + column] = Math.max(darkest, GLOW_SHARE * top)
    }
  }
  const inside = new Uint8Array(width * height)
  for (let y = 0, p = 0; y < height; y++) {
    const row = Math.floor(y / NEAR) * columns
    for (let x = 0; x < width; x++, p++)
      inside[p] = rgb[3 * p]! > least[row + Math.floor(x / NEAR)]! ? 1 : 0
  }
  return inside
}

/** Steps to a neighbour and to one across the corner: within 8 % of the straight distance. */
const ACROSS = 0.955
const CORNER = 1.369

/** Chamfer distance in two passes (Borgefors, Comput. Vis. Graph. Image Process. 34 (1986) 344). */
function depthInside(inside: Uint8Array, width: number, height: number): Float32Array {
  const far = width + height
  const depth = new Float32Array(inside.length)
  for (let y = 0, p = 0; y < height; y++) {
    for (let x = 0; x < width; x++, p++) {
      if (!inside[p]) continue
      let least = far
      if (x > 0) least = Math.min(least, depth[p - 1]! + ACROSS)
      if (y > 0) {
        least = Math.min(least, depth[p - width]! + ACROSS)
        if (x > 0) least = Math.min(least, depth[p - width - 1]! + CORNER)
        if (x < width - 1) least = Math.min(least, depth[p - width + 1]! + CORNER)
      }
      depth[p] = least
    }
  }
  for (let y = height - 1, p = inside.length - 1; y >= 0; y--) {
    for (let x = width - 1; x >= 0; x--, p--) {
      if (!inside[p]) continue
      let least = depth[p]!
      if (x < width - 1) least = Math.min(least, depth[p + 1]! + ACROSS)
      if (y < height - 1) {
        least = Math.min(least, depth[p + width]! + ACROSS)
        if (x > 0) least = Math.min(least, depth[p + width - 1]! + CORNER)
        if (x < width - 1) least = Math.min(least, depth[p + width + 1]! + CORNER)
      }
      depth[p] = least
    }
  }
  return depth
}

/**
 * Of a step blurred by a normal curve the steepest slope is contrast / (sd sqrt(2 pi)). Slopes are
 * differences over two pixels, so that no sharper outline than 0.8 pixels is seen.
 */
function edgeBlur({ width, height, rgb }: LightImage, inside: Uint8Array): number {
  const red = (x: number, y: number) => rgb[3 * (y * width + x)]!
  const found: number[] = []
  const look = (x: number, y: number, dx: number, dy: number) => {
    let [steepest, high, low] = [0, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
    for (let k = -NEAR; k <= NEAR; k++) {
      const [u, v] = [x + k * dx, y + k * dy]
      if (u < 1 || v < 1 || u >= width - 1 || v >= height - 1) continue
      const level = red(u, v)
      high = Math.max(high, level)
      low = Math.min(low, level)
      const slope = Math.hypot(red(u + 1, v) - red(u - 1, v), red(u, v + 1) - red(u, v - 1)) / 2
      steepest = Math.max(steepest, slope)
    }
    if (steepest > 0) found.push((high - low) / (steepest * Math.sqrt(2 * Math.PI)))
  }
  const stride = Math.max(1, Math.round((width + height) / POINTS))
  for (let y = 1; y < height - 1; y += stride)
    for (let x = 1; x < width; x++) {
      const p = y * width + x
      if (inside[p] !== inside[p - 1]) look(x, y, 1, 0)
    }
  for (let x = 1; x < width - 1; x += stride)
    for (let y = 1; y < height; y++) {
      const p = y * width + x
      if (inside[p] !== inside[p - width]) look(x, y, 0, 1)
    }
  return found.length < LEAST_POINTS ? Number.NaN : median(found)
}
