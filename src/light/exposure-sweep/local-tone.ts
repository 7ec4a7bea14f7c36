import { encodeTransfer } from '../../colour/rgb-spaces.ts'
import { average } from '../../numerics/statistics.ts'
import type { Region, StoredImage } from '../image.ts'
import { pixelBox } from '../region.ts'
import { decodeCode } from '../tone-response.ts'
import { type CodingSteps, codingUncertainty, PIXELS_PER_SAMPLE } from './frame-levels.ts'
import { bendAt, type Response } from './response.ts'

const GRID = 5
/** Below this code coding smears the edge of the glow over the region. */
const LEAST_CODE = 25
/** A response is trusted this far above the brightest level it was seen at, ln light. */
const BEYOND = 0.03
/** Shapes over the region that are looked for. */
const SHAPES = 3

export interface PlaceDependence {
  /** Root mean square over the blocks, ln light: the shapes' part, and all of it. */
  readonly shapeLn: number
  readonly totalLn: number
  /** Variance of the shapes' part over that of the rest, each per degree of freedom. */
  readonly varianceRatio: number
  /** What noise and coding alone would make of {@link totalLn}. */
  readonly expectedLn: number
  /** Standard deviation of the light over the blocks, ln. */
  readonly unevenLn: number
}

const NOWHERE: PlaceDependence = {
  shapeLn: 0,
  totalLn: 0,
  varianceRatio: 0,
  expectedLn: 1,
  unevenLn: 0,
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
 * @param brightest nominal ln light up to which the response was seen
 * @returns of the frame in which it shows most; nothing where the region is too small to say
 */
export function placeDependence(
  frames: readonly PlacedFrame[],
  response: Response,
  brightest: number,
  steps: CodingSteps,
): PlaceDependence {
  const rows = frames
    .map((frame) => blockLight(frame, response, brightest, steps))
    .filter((row) => row !== null)
  if (rows.length < 3) return NOWHERE
  const blocks = GRID * GRID
  const means = Array.from({ length: blocks }, (_, b) => average(rows.map((r) => r.light[b]!)))
  const grand = average(means)
  const unevenLn = Math.sqrt(average(means.map((m) => (m - grand) ** 2)))
  const found = rows.map(({ light, noise }): PlaceDependence => {
    const own = average(light)
    const rest = light.map((v, b) => v - means[b]! - own + grand)
    const all = rest.reduce((sum, v) => sum + v * v, 0)
    const squares = shapeSquares(rest)
    const perFreedom = Math.max(all - squares, 1e-12) / (blocks - 1 - SHAPES)
    return {
      shapeLn: Math.sqrt(squares / blocks),
      totalLn: Math.sqrt(all / blocks),
      varianceRatio: squares / SHAPES / perFreedom,
      expectedLn: noise,
      unevenLn,
    }
  })
  return found.reduce((a, b) => (b.totalLn / b.expectedLn > a.totalLn / a.expectedLn ? b : a))
}

/**
 * ln light of red in GRID x GRID blocks with its noise; null where one of them is too dark, too
 * small, or above what the response was seen for.
 */
function blockLight(
  { image, region }: PlacedFrame,
  response: Response,
  brightest: number,
  steps: CodingSteps,
): { light: number[]; noise: number } | null {
  const box = pixelBox(region, image.width, image.height)
  const [width, height] = [box.right - box.left, box.bottom - box.top]
  if (Math.min(width, height) < 4 * GRID) return null
  const light = new Float64Array(GRID * GRID)
  const squares = new Float64Array(GRID * GRID)
  const count = new Float64Array(GRID * GRID)
  for (let y = box.top; y < box.bottom; y++) {
    for (let x = box.left; x < box.right; x++) {
      const row = Math.floor(((y - box.top) * GRID) / height)
      const block = row * GRID + Math.floor(((x - box.left) * GRID) / width)
      const v = decodeCode(image.codes[3 * (y * image.width + x)]!)
      light[block]! += v
      squares[block]! += v * v
      count[block]!++
    }
  }
  const least = decodeCode(LEAST_CODE / 255)
  const values: number[] = []
  let variance = 0
  for (let b = 0; b < light.length; b++) {
    const mean = light[b]! / count[b]!
    const u = Math.log(mean)
    if (!(mean > least) || u > brightest + BEYOND) return null
    const { value, slope } = bendAt(response, u)
    values.push(u + value)
    const code = encodeTransfer(mean)
    const perCode = (decodeCode(code + 0.5 / 255) - decodeCode(code - 0.5 / 255)) / mean
    const pixel = Math.sqrt(Math.max(squares[b]! / count[b]! - mean * mean, 0)) / mean
    const coding = codingUncertainty(steps, [pixel / perCode, 1, 1])[0] * perCode
    variance +=
      ((1 + slope) ** 2 * (coding ** 2 + (pixel * pixel * PIXELS_PER_SAMPLE) / count[b]!)) /
      light.length
  }
  return { light: values, noise: Math.sqrt(variance) }
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
