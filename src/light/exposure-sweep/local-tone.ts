import type { Region, StoredImage } from '../image.ts'
import { pixelBox } from '../region.ts'
import { decodeCode } from '../tone-response.ts'
import { splineAt } from './b-spline.ts'
import type { Response } from './recover-response.ts'

const GRID = 5
/** Below this code coding smears the edge of the glow over the region. */
const LEAST_CODE = 25
/** Shapes over the region that are looked for. */
const SHAPES = 3

export interface PlaceDependence {
  readonly lnLight: number
  readonly varianceRatio: number
}

/** A frame with its region in it and its exposure. */
export interface PlacedFrame {
  readonly image: StoredImage
  readonly region: Region
}

/**
 * How far the residuals of a sweep depend on the place in the region.
 *
 * ln light of red over a grid of blocks in all frames, less the mean of each block and of each frame:
 * what is left is zero where one tone curve holds for the whole picture. Local tone mapping treats
 * middle and edge of a glow differently from exposure to exposure. Of what is left, the part that a
 * plane and a dome over the region explain is taken; noise does not look like that.
 *
 * @returns the frame in which it shows most: root mean square of that part, ln light, and its
 *   variance over that of the rest, each per degree of freedom; zeros where the region is too small
 *   to say
 */
export function placeDependence(
  frames: readonly PlacedFrame[],
  response: Response,
): PlaceDependence {
  const rows = frames
    .map(({ image, region }) => blockLight(image, region, response))
    .filter((row) => row !== null)
  if (rows.length < 3) return { lnLight: 0, varianceRatio: 0 }
  const blocks = rows[0]!.length
  const means = Array.from({ length: blocks }, (_, b) => average(rows.map((row) => row[b]!)))
  const grand = average(means)
  const found = rows.map((row) => {
    const own = average(row)
    const rest = row.map((v, b) => v - means[b]! - own + grand)
    const squares = shapeSquares(rest)
    const other = rest.reduce((sum, v) => sum + v * v, 0) - squares
    const perFreedom = Math.max(other, 1e-12) / (blocks - 1 - SHAPES)
    return {
      lnLight: Math.sqrt(squares / blocks),
      varianceRatio: squares / SHAPES / perFreedom,
    }
  })
  return found.reduce((a, b) => (b.varianceRatio > a.varianceRatio ? b : a))
}

const average = (values: readonly number[]) =>
  values.reduce((sum, v) => sum + v, 0) / Math.max(values.length, 1)

/** ln light of red in GRID x GRID blocks, or null where one of them is too dark or too small. */
function blockLight(image: StoredImage, region: Region, response: Response): number[] | null {
  const box = pixelBox(region, image.width, image.height)
  const [width, height] = [box.right - box.left, box.bottom - box.top]
  if (Math.min(width, height) < 4 * GRID) return null
  const light = new Float64Array(GRID * GRID)
  const count = new Float64Array(GRID * GRID)
  for (let y = box.top; y < box.bottom; y++) {
    for (let x = box.left; x < box.right; x++) {
      const row = Math.floor(((y - box.top) * GRID) / height)
      const block = row * GRID + Math.floor(((x - box.left) * GRID) / width)
      light[block]! += decodeCode(image.codes[3 * (y * image.width + x)]!)
      count[block]!++
    }
  }
  const least = decodeCode(LEAST_CODE / 255)
  const values: number[] = []
  for (let b = 0; b < light.length; b++) {
    const mean = light[b]! / count[b]!
    if (!(mean > least)) return null
    const u = Math.log(mean)
    values.push(u + splineAt(response.basis, response.coefficients, u).value)
  }
  return values
}

/** Sum of squares of the projection on x, y and x² + y² over the grid. */
function shapeSquares(values: readonly number[]): number {
  const place = values.map((_, b) => {
    const x = (2 * (b % GRID)) / (GRID - 1) - 1
    const y = (2 * Math.floor(b / GRID)) / (GRID - 1) - 1
    return [x, y, x * x + y * y]
  })
  const dome = average(place.map((p) => p[2]!))
  let squares = 0
  // On this grid the three shapes are orthogonal once the dome's mean is taken off.
  for (let k = 0; k < SHAPES; k++) {
    const shape = place.map((p) => p[k]! - (k === 2 ? dome : 0))
    const norm = shape.reduce((sum, v) => sum + v * v, 0)
    const factor = shape.reduce((sum, v, b) => sum + v * values[b]!, 0) / norm
    squares += factor * factor * norm
  }
  return squares
}
