import { median } from '../../numerics/statistics.ts'
import { type FramePixels, frameCodes } from './frame-codes.ts'
import { CODE_STEPS, LIGHT_OF_CODE } from './frame-mean.ts'

/** Rows and columns that are looked at, each. */
const LINES = 24
/** Pixels to each side of an outline. */
const NEAR = 16
/** Fewer outlines say nothing. */
const LEAST_POINTS = 12
/** Linear red that an outline rises to at least, and at most: an overexposed one looks steeper. */
const [LEAST_RED, MOST_RED] = [0.02, 0.95]

/**
 * Standard deviation of the blur across outlines in a frame, pixels: of a step blurred by a normal curve
 * the steepest slope is contrast / (sd sqrt(2 pi)), as in glow-outline. Colour at half resolution counts,
 * because red is made of it.
 *
 * @returns NaN where too few outlines are seen
 */
export function liveBlur(pixels: FramePixels): number {
  const found: number[] = []
  const { width, height } = pixels
  for (let i = 1; i <= LINES; i++) {
    outlinesOf(redAlong(pixels, 'row', 2 * Math.floor((i * height) / (2 * (LINES + 1)))), found)
    outlinesOf(redAlong(pixels, 'column', 2 * Math.floor((i * width) / (2 * (LINES + 1)))), found)
  }
  return found.length < LEAST_POINTS ? Number.NaN : median(found)
}

/** Linear red of a row or a column with an even number. */
function redAlong(pixels: FramePixels, way: 'row' | 'column', at: number): Float64Array {
  const { format, planes } = pixels
  const [first, ...chroma] = planes
  const rgb = format === 'RGBA' || format === 'BGRA'
  const between = format === 'NV12' ? 2 : 1
  const moved = (plane: (typeof planes)[number], across: number, along: number) => ({
    ...plane,
    offset: plane.offset + (way === 'row' ? along * plane.stride : across),
  })
  const part: FramePixels = {
    ...pixels,
    ...(way === 'row' ? { height: 1 } : { width: 1 }),
    planes: [
      moved(first!, rgb ? 4 * at : at, at),
      ...chroma.map((plane) => moved(plane, between * (at >> 1), at >> 1)),
    ],
  }
  const { codes } = frameCodes(part)
  return Float64Array.from(
    { length: codes.length / 3 },
    (_, i) => LIGHT_OF_CODE[(codes[3 * i]! * (CODE_STEPS - 1) + 0.5) | 0]!,
  )
}

function outlinesOf(red: Float64Array, found: number[]): void {
  for (let i = 1; i < red.length; i++) {
    const [low, high] = [Math.min(red[i - 1]!, red[i]!), Math.max(red[i - 1]!, red[i]!)]
    if (high < LEAST_RED / 2) continue
    const [from, to] = [Math.max(i - NEAR, 1), Math.min(i + NEAR, red.length - 1)]
    let [most, least, steepest] = [0, Number.POSITIVE_INFINITY, 0]
    for (let k = from; k < to; k++) {
      most = Math.max(most, red[k]!)
      least = Math.min(least, red[k]!)
      steepest = Math.max(steepest, Math.abs(red[k + 1]! - red[k - 1]!) / 2)
    }
    const half = (most + least) / 2
    // A gradient within the piece is no outline: across one, light falls to nothing.
    if (!(low < half && high >= half) || least > most / 4) continue
    if (most < LEAST_RED || most > MOST_RED) continue
    found.push((most - least) / (steepest * Math.sqrt(2 * Math.PI)))
  }
}
