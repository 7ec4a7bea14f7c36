import type { Triple } from '../../numerics/matrix3.ts'
import { isClipped, type LightMap } from './light-map.ts'

/**
 * Where the cells of a photo's map lie in the map of the raw picture: x' = left + scale x, and from there
 * away from the raw picture's middle by a share `bulge` of the squared distance in half diagonals, where
 * the photo was corrected for its lens.
 */
export interface MapPlace {
  readonly scale: number
  readonly left: number
  readonly top: number
  readonly bulge: number
  /** Share of the photo's variance that the raw level explains, by whatever curve, 0..1. */
  readonly correlation: number
}

/** The raw map turned as the photo is, and the photo's place in it. */
export interface PlacedMaps {
  readonly raw: LightMap
  readonly place: MapPlace
}

/** Displacement looked for, cells of the photo's map; camera apps crop some pixels off a raw picture. */
const REACH = 6
/** Every how many cells is looked at. */
const SAMPLED = 3
/** Sizes that differ by less are the same picture with its border cut off. */
const SAME_SIZE = 0.03
/** First steps of a corrected lens: what its bulge may be, and by how much the picture is then enlarged. */
const LENS = { bulge: 0.04, enlarged: 0.02 } as const
/**
 * A lens is taken as corrected where that explains so much of what is left without it. Chance alone
 * explains a third, a bulge of 0.03 half and more, one of 0.06 two thirds and more.
 */
const LENS_EXPLAINS = 0.5
/** Another size or turn leaves so much less unexplained; a symmetrical scene fits both ways. */
const LESS_OPEN = 0.8
/** No other way of lying on each other is looked for from here on. */
const SURE = 0.97

/**
 * Finds where an ordinary photo lies in the raw picture of the same shot: whole, made smaller, cut to
 * another shape about its middle, turned by quarters, or corrected for its lens.
 *
 * @param toRed what the raw channels add to the photo's red, as the raw file states it
 * @returns null where the two have no shape in common or one of them shows no structure
 */
export function placeMaps(photo: LightMap, raw: LightMap, toRed: Triple): PlacedMaps | null {
  const sample = samplesOf(photo, rooted(photo, [1, 0, 0]))
  const standing = raw.width < raw.height !== photo.width < photo.height
  let best: (PlacedMaps & { readonly withLens: () => MapPlace }) | null = null
  // Files that do not say how the camera was held.
  for (const quarters of standing ? [1, 3, 0, 2] : [0, 2, 1, 3]) {
    const across = (quarters % 2 === 1) !== standing
    if (across && best && best.place.correlation > SURE) break
    const turned = turnedMap(raw, quarters)
    const levels = rooted(turned, toRed)
    for (const pixels of sizesOf(photo, turned)) {
      const at = placing(photo, turned, pixels, sample, levels)
      const { place, parameters } = climbed(at, STILL, false)
      if (best && 1 - place.correlation > LESS_OPEN * (1 - best.place.correlation)) continue
      best = { raw: turned, place, withLens: () => climbed(at, parameters, true).place }
    }
  }
  if (!best) return null
  const lens = best.withLens()
  const explains = 1 - lens.correlation < (1 - LENS_EXPLAINS) * (1 - best.place.correlation)
  return { raw: best.raw, place: explains ? lens : best.place }
}

/** Pixels of the raw picture for one of the photo. */
function sizesOf(photo: LightMap, raw: LightMap): number[] {
  const [byWidth, byHeight] = [raw.of.width / photo.of.width, raw.of.height / photo.of.height]
  const fits = (size: number) => size * (1 - SAME_SIZE) < Math.min(byWidth, byHeight)
  const found: number[] = []
  // A mosaic is read at half its size.
  for (const size of [0.5, 1, byWidth, byHeight]) {
    const same = found.some((other) => Math.abs(size / other - 1) < SAME_SIZE)
    if (fits(size) && !same) found.push(size)
  }
  return found
}

/** Displacement in cells of the photo, by what share it is enlarged, and the bulge. */
type Placing = readonly [dx: number, dy: number, enlarged: number, bulge: number]
const STILL: Placing = [0, 0, 0, 0]
type PlaceAt = (...placing: Placing) => MapPlace

/** The photo's place, counted from the middle of the raw picture, and what it explains. */
function placing(
  photo: LightMap,
  raw: LightMap,
  pixels: number,
  sample: Samples,
  levels: Float32Array,
): PlaceAt {
  const whole = (photo.cell * pixels) / raw.cell
  const highest = levels.reduce((a, b) => Math.max(a, b), 1e-9)
  return (dx, dy, enlarged, bulge) => {
    const scale = whole * (1 - enlarged)
    const left = (raw.of.width / raw.cell - scale * (photo.of.width / photo.cell)) / 2 + whole * dx
    const top = (raw.of.height / raw.cell - scale * (photo.of.height / photo.cell)) / 2 + whole * dy
    const place = { scale, left, top, bulge, correlation: 0 }
    return { ...place, correlation: explained(sample, levels, highest, raw, place) }
  }
}

/** Nearest peak on a grid, made finer step by step; of the lens too where that is asked for. */
function climbed(at: PlaceAt, from: Placing, lens: boolean) {
  let parameters = from
  let place = at(...from)
  const attempt = (...tried: Placing) => {
    const found = at(...tried)
    if (found.correlation > place.correlation) [parameters, place] = [tried, found]
  }
  for (let step = REACH / 2; step > 0.05; step /= 2) {
    if (lens) {
      const [dx, dy, enlarged, bulge] = parameters
      const share = (2 * step) / REACH
      for (let j = -2; j <= 2; j++) {
        for (let i = -2; i <= 2; i++)
          attempt(dx, dy, enlarged + i * share * LENS.enlarged, bulge + j * share * LENS.bulge)
      }
    }
    const [x, y, enlarged, bulge] = parameters
    for (let j = -2; j <= 2; j++) {
      for (let i = -2; i <= 2; i++) attempt(x + i * step, y + j * step, enlarged, bulge)
    }
  }
  return { place, parameters }
}

/** Place in the raw map of a place in the photo's map, cells from the corner. */
export function placeInRaw(
  { scale, left, top, bulge }: MapPlace,
  raw: LightMap,
  x: number,
  y: number,
): readonly [x: number, y: number] {
  const [middleX, middleY] = [raw.width / 2, raw.height / 2]
  const [u, v] = [left + scale * x - middleX, top + scale * y - middleY]
  const away = 1 + (bulge * (u * u + v * v)) / (middleX * middleX + middleY * middleY)
  return [middleX + u * away, middleY + v * away]
}

/** A map turned clockwise by quarters. */
export function turnedMap(map: LightMap, quarters: number): LightMap {
  if (quarters === 0) return map
  const { width, height, light, flags } = map
  const upright = quarters % 2 === 0
  const [w, h] = upright ? [width, height] : [height, width]
  const turned = { light: new Float32Array(light.length), flags: new Uint8Array(flags.length) }
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [tx, ty] = [
        [x, y],
        [height - 1 - y, x],
        [width - 1 - x, height - 1 - y],
        [y, width - 1 - x],
      ][quarters] as [number, number]
      const [from, to] = [y * width + x, ty * w + tx]
      turned.flags[to] = flags[from]!
      for (let c = 0; c < 3; c++) turned.light[3 * to + c] = light[3 * from + c]!
    }
  }
  const of = upright ? map.of : { width: map.of.height, height: map.of.width }
  return { width: w, height: h, cell: map.cell, of, ...turned }
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
  raw: LightMap,
  place: MapPlace,
): number {
  const { width, height } = raw
  const counts = new Float64Array(BINS)
  const sums = new Float64Array(BINS)
  let [n, sum, squares] = [0, 0, 0]
  for (let k = 0; k < level.length; k++) {
    const [across, down] = placeInRaw(place, raw, x[k]!, y[k]!)
    const [u, v] = [across - 0.5, down - 0.5]
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
