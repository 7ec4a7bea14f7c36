import { median } from '../../numerics/statistics.ts'
import type { Region, StoredImage } from '../image.ts'
import { grown, pixelBox } from '../region.ts'

/** Displacement of a frame against the reference, pixels: where (x, y) there is (x + dx, y + dy). */
export interface Shift {
  readonly dx: number
  readonly dy: number
  /** Zero-mean normalised cross-correlation there, -1..1, corrected for the noise of both. */
  readonly correlation: number
}

/** Largest displacement looked for, pixels. */
export const LARGEST_SHIFT = 24
const COARSE_SIDE = 64
/** Standard deviation of the codes (0..1) below which a picture has nothing to hold on to. */
const LEAST_CONTRAST = 0.02
/**
 * Correlation given up for a whole search width of displacement. Along a straight edge every
 * displacement fits alike; then the smallest is right.
 */
const PULL = 0.01

interface Plane {
  readonly width: number
  readonly height: number
  readonly values: Float32Array
}

/**
 * Finds by how much a frame is displaced around a region: red codes, correlated at coarse and then
 * at full resolution, to a fraction of a pixel by a parabola through the peak. Correlation does not
 * mind exposure, and hardly the tone curve.
 *
 * @returns null where reference or frame shows no structure around the region
 */
export function findShift(
  reference: StoredImage,
  frame: StoredImage,
  region: Region,
): Shift | null {
  const box = pixelBox(
    { ...grown(region, LARGEST_SHIFT), shape: 'rectangle' },
    reference.width,
    reference.height,
  )
  const a = redPlane(reference, box)
  const b = redPlane(frame, box)
  let factor = 1
  while (Math.max(a.width, a.height) / factor > COARSE_SIDE) factor *= 2
  const [coarseA, coarseB] = [reduced(a, factor), reduced(b, factor)]
  if (contrast(coarseA) < LEAST_CONTRAST || contrast(coarseB) < LEAST_CONTRAST) return null
  let found = best(coarseA, coarseB, 0, 0, Math.ceil(LARGEST_SHIFT / factor))
  // Noise pulls correlations down: a dark frame is noisy, not moved.
  const coarse = correlation(coarseA, coarseB, found.dx, found.dy)
  const alike = Math.min(coarse / Math.sqrt(reliability(coarseA) * reliability(coarseB)), 1)
  while (factor > 1) {
    factor /= 2
    found = best(reduced(a, factor), reduced(b, factor), found.dx * 2, found.dy * 2, 2)
  }
  const at = (dx: number, dy: number) => correlation(a, b, dx, dy)
  const { dx, dy } = found
  const peak = at(dx, dy)
  return {
    dx: dx + vertex(at(dx - 1, dy), peak, at(dx + 1, dy)),
    dy: dy + vertex(at(dx, dy - 1), peak, at(dx, dy + 1)),
    correlation: alike,
  }
}

/** The region where it lies in a displaced frame. */
export function shifted(region: Region, { dx, dy }: { dx: number; dy: number }): Region {
  return { ...region, x: region.x + dx, y: region.y + dy }
}

function redPlane(image: StoredImage, box: ReturnType<typeof pixelBox>): Plane {
  const [width, height] = [box.right - box.left, box.bottom - box.top]
  const values = new Float32Array(width * height)
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      values[y * width + x] = image.codes[3 * ((y + box.top) * image.width + x + box.left)]!
    }
  }
  return { width, height, values }
}

function reduced(plane: Plane, factor: number): Plane {
  if (factor === 1) return plane
  const [width, height] = [Math.floor(plane.width / factor), Math.floor(plane.height / factor)]
  const values = new Float32Array(width * height)
  for (let y = 0; y < height * factor; y++) {
    for (let x = 0; x < width * factor; x++) {
      const to = Math.floor(y / factor) * width + Math.floor(x / factor)
      values[to]! += plane.values[y * plane.width + x]! / (factor * factor)
    }
  }
  return { width, height, values }
}

function contrast({ values }: Plane): number {
  let [sum, squares] = [0, 0]
  for (const v of values) {
    sum += v
    squares += v * v
  }
  const n = Math.max(values.length, 1)
  return Math.sqrt(Math.max(squares / n - (sum / n) ** 2, 0))
}

/**
 * Share of a plane's variance that is structure (Spearman 1904): noise from the median difference of
 * neighbours, which is 0.95 standard deviations of the noise where there is no structure.
 */
function reliability(plane: Plane): number {
  const { width, height, values } = plane
  const differences: number[] = []
  for (let y = 0; y < height; y++) {
    for (let x = 1; x < width; x++) {
      differences.push(Math.abs(values[y * width + x]! - values[y * width + x - 1]!))
    }
  }
  const noise = median(differences) / 0.954
  return Math.min(Math.max(1 - (noise / Math.max(contrast(plane), 1e-9)) ** 2, 0.2), 1)
}

function best(a: Plane, b: Plane, aroundX: number, aroundY: number, reach: number) {
  let found = { dx: aroundX, dy: aroundY, score: Number.NEGATIVE_INFINITY }
  for (let dy = aroundY - reach; dy <= aroundY + reach; dy++) {
    for (let dx = aroundX - reach; dx <= aroundX + reach; dx++) {
      const away = Math.hypot(dx, dy) / Math.max(a.width, a.height)
      const score = correlation(a, b, dx, dy) - PULL * away
      if (score > found.score) found = { dx, dy, score }
    }
  }
  return found
}

/** Over the pixels that both planes share; -1 where fewer than half of them do. */
function correlation(a: Plane, b: Plane, dx: number, dy: number): number {
  const [left, right] = [Math.max(0, -dx), Math.min(a.width, a.width - dx)]
  const [top, bottom] = [Math.max(0, -dy), Math.min(a.height, a.height - dy)]
  const n = (right - left) * (bottom - top)
  if (right <= left || bottom <= top || 2 * n < a.values.length) return -1
  let [sa, sb, saa, sbb, sab] = [0, 0, 0, 0, 0]
  for (let y = top; y < bottom; y++) {
    let i = y * a.width + left
    let j = (y + dy) * a.width + left + dx
    for (let x = left; x < right; x++, i++, j++) {
      const va = a.values[i]!
      const vb = b.values[j]!
      sa += va
      sb += vb
      saa += va * va
      sbb += vb * vb
      sab += va * vb
    }
  }
  const spread = (saa - (sa * sa) / n) * (sbb - (sb * sb) / n)
  return spread > 0 ? (sab - (sa * sb) / n) / Math.sqrt(spread) : -1
}

/** Where the parabola through three values at -1, 0, 1 has its top, at most half a step away. */
function vertex(before: number, peak: number, after: number): number {
  const bend = before - 2 * peak + after
  if (!(bend < -1e-6) || before <= -1 || after <= -1) return 0
  return Math.min(Math.max((before - after) / (2 * bend), -0.5), 0.5)
}
