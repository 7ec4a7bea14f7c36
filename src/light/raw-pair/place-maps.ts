import type { Triple } from '../../numerics/matrix3.ts'
import { isClipped, type LightMap } from './light-map.ts'

/** Where the cells of a photo's map lie in the map of the raw picture: x' = left + scale x. */
export interface MapPlace {
  readonly scale: number
  readonly left: number
  readonly top: number
  /** Share of the photo's variance that the raw level explains, by whatever curve, 0..1. */
  readonly correlation: number
}

/** Displacement looked for, cells of the photo's map; camera apps crop some pixels off a raw picture. */
const REACH = 6
/** Every how many cells is looked at. */
const SAMPLED = 3
/** Sizes that differ by less are the same picture with its border cut off. */
const SAME_SIZE = 0.03

/**
 * Finds where an ordinary photo lies in the raw picture of the same shot.
 *
 * @param toRed what the raw channels add to the photo's red, as the raw file states it
 * @returns null where the two have no shape in common or one of them shows no structure
 */
export function placeMaps(photo: LightMap, raw: LightMap, toRed: Triple): MapPlace | null {
  const stretch = raw.of.width / photo.of.width
  // A mosaic is read at half its size.
  const whole = [0.5, 1].find((size) => Math.abs(stretch / size - 1) < SAME_SIZE)
  const pixels = whole ?? stretch
  if (photo.of.height * pixels > raw.of.height * (1 + SAME_SIZE)) return null
  const scale = (photo.cell * pixels) / raw.cell
  const levels = rooted(raw, toRed)
  const top = levels.reduce((a, b) => Math.max(a, b), 1e-9)
  const sample = samplesOf(photo, rooted(photo, [1, 0, 0]))
  const left = (raw.of.width / raw.cell - scale * (photo.of.width / photo.cell)) / 2
  const upper = (raw.of.height / raw.cell - scale * (photo.of.height / photo.cell)) / 2
  const found = climbed(
    (dx, dy) => explained(sample, levels, top, raw, scale, left + dx, upper + dy),
    scale,
  )
  return { scale, left: left + found.dx, top: upper + found.dy, correlation: found.correlation }
}

/** Nearest peak on a grid, made finer step by step. */
function climbed(at: (dx: number, dy: number) => number, cell: number) {
  let [dx, dy, top] = [0, 0, at(0, 0)]
  for (let step = REACH / 2; step > 0.05; step /= 2) {
    const [x, y] = [dx, dy]
    for (let j = -2; j <= 2; j++) {
      for (let i = -2; i <= 2; i++) {
        const value = at(x + i * step * cell, y + j * step * cell)
        if (value > top) [dx, dy, top] = [x + i * step * cell, y + j * step * cell, value]
      }
    }
  }
  return { dx, dy, correlation: top }
}

interface Samples {
  readonly x: Float32Array
  readonly y: Float32Array
  readonly level: Float32Array
}

function samplesOf(photo: LightMap, levels: Float32Array): Samples {
  const at: number[] = []
  for (let y = 1; y < photo.height - 1; y += SAMPLED) {
    for (let x = 1; x < photo.width - 1; x += SAMPLED) {
      const i = y * photo.width + x
      if (!isClipped(photo, i)) at.push(i)
    }
  }
  return {
    x: Float32Array.from(at, (i) => (i % photo.width) + 0.5),
    y: Float32Array.from(at, (i) => Math.floor(i / photo.width) + 0.5),
    level: Float32Array.from(at, (i) => levels[i]!),
  }
}

/**
 * Square roots of red light, each a mean over 3 x 3 cells: places between cells are smoother than cells,
 * and would look more alike for their noise alone.
 */
function rooted({ width, height, light }: LightMap, [r, g, b]: Triple): Float32Array {
  const levels = new Float32Array(width * height)
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      let sum = 0
      for (let j = -1; j <= 1; j++) {
        for (let i = -1; i <= 1; i++) {
          const at = 3 * ((y + j) * width + x + i)
          sum += Math.max(r * light[at]! + g * light[at + 1]! + b * light[at + 2]!, 0)
        }
      }
      levels[y * width + x] = Math.sqrt(sum / 9)
    }
  }
  return levels
}

const BINS = 64

/**
 * The correlation ratio (Roche et al. 1998): how much of the variance of the photo's levels goes with the
 * raw level. A tone curve is no loss, so that it is not taken for a displacement.
 */
function explained(
  { x, y, level }: Samples,
  levels: Float32Array,
  highest: number,
  { width, height }: LightMap,
  scale: number,
  left: number,
  top: number,
): number {
  const counts = new Float64Array(BINS)
  const sums = new Float64Array(BINS)
  let [n, sum, squares] = [0, 0, 0]
  for (let k = 0; k < level.length; k++) {
    const u = left + scale * x[k]! - 0.5
    const v = top + scale * y[k]! - 0.5
    const i = Math.min(Math.max(Math.floor(u), 0), width - 2)
    const j = Math.min(Math.max(Math.floor(v), 0), height - 2)
    const [fx, fy] = [u - i, v - j]
    if (!(fx > -1 && fy > -1 && fx < 2 && fy < 2)) continue
    const at = j * width + i
    const b =
      (1 - fy) * ((1 - fx) * levels[at]! + fx * levels[at + 1]!) +
      fy * ((1 - fx) * levels[at + width]! + fx * levels[at + width + 1]!)
    const bin = Math.min(Math.max(Math.floor((BINS * b) / highest), 0), BINS - 1)
    const a = level[k]!
    counts[bin]!++
    sums[bin]! += a
    n++
    sum += a
    squares += a * a
  }
  const total = squares - (sum * sum) / Math.max(n, 1)
  if (2 * n < level.length || n < 100 || !(total > 0)) return 0
  let between = -(sum * sum) / n
  for (let bin = 0; bin < BINS; bin++) {
    if (counts[bin]! > 0) between += sums[bin]! ** 2 / counts[bin]!
  }
  return between / total
}
