import type { CodingSteps } from '../exposure-sweep/frame-levels.ts'
import type { LightImage } from '../image.ts'
import { GREEN_OF_CB, GREEN_OF_CR, RED_OF_CR, steepness } from './coding-error.ts'

/** Variance of an even error of one step. */
const EVEN = 1 / 12
const TOP = 255
/** A mean of a block is coded in steps of an eighth of its DC step (T.81, A.3.3), and decoded to whole codes. */
const planeStep = (dcStep: number) => Math.max(dcStep / 8, 1)
/** Pixels of the picture over which codes are seen to spread: a block of JPEG. */
const SPREAD_PIXELS = 8
/** Y and Cr of red and green (ITU-T T.871); blue adds a tenth at most. */
const LUMA = { red: 0.299, green: 0.587 }
const RED_DIFFERENCE = { red: 0.5, green: -0.4187 }

/**
 * Standard uncertainty of each cell's ln(G/R) by the steps in which a file holds Y, Cb and Cr. Where noise
 * spreads codes it averages out: a mean of rounded values errs by exp(-2 pi^2 s^2) of the step at noise s
 * (Widrow & Kollar, Quantization Noise, 2008, chapter 4). JPEG and noise filters take that noise away,
 * from colour first, and a slow course then shows as bands, wider than the reach over which noise is seen.
 *
 * @param side of a cell, pixels of `light`, of which each stands for `step` pixels of the picture
 * @returns NaN where there is no light
 */
export function stepError(
  light: LightImage,
  { luma, chroma }: CodingSteps,
  { side, columns, rows, step }: CellSizes,
): Float32Array {
  const sums = cellSums(light, side, columns, rows)
  const reach = Math.max(1, Math.round(SPREAD_PIXELS / (side * step)))
  const steps = [planeStep(luma), planeStep(chroma)] as const
  const found = new Float32Array(columns * rows).fill(Number.NaN)
  for (let at = 0; at < found.length; at++) {
    const x = at % columns
    const y = (at - x) / columns
    let [squares, count] = [0, 0]
    // Where a band begins codes spread as by noise: what lies to one side of it tells them apart.
    for (const u of [x - reach, x])
      for (const v of [y - reach, y]) {
        if (u < 0 || v < 0 || u + reach >= columns || v + reach >= rows) continue
        const moments = meanOver(sums, columns, u, v, reach, side * side)
        if (!(moments[0]! > 0 && moments[1]! > 0)) continue
        squares += errorOf(moments, steps) ** 2
        count++
      }
    found[at] = Math.sqrt(squares / count)
  }
  return found
}

function errorOf(
  [red, green, redSquare, greenSquare, both]: Moments,
  [lumaStep, chromaStep]: readonly [number, number],
): number {
  // In codes, by the slope of the transfer function at the mean.
  const [r, g] = [steepness(red) / TOP, steepness(green) / TOP]
  const redVariance = (redSquare - red * red) / (red * r) ** 2
  const greenVariance = (greenSquare - green * green) / (green * g) ** 2
  const covariance = (both - red * green) / (red * r * green * g)
  const spread = (of: { readonly red: number; readonly green: number }) =>
    of.red ** 2 * redVariance + of.green ** 2 * greenVariance + 2 * of.red * of.green * covariance
  const left = (variance: number, codes: number) =>
    codes ** 2 * EVEN * Math.exp(-4 * Math.PI ** 2 * Math.max(variance / codes ** 2 - EVEN, 0))
  return Math.sqrt(
    (g - r) ** 2 * left(spread(LUMA), lumaStep) +
      ((GREEN_OF_CR * g - RED_OF_CR * r) ** 2 + (GREEN_OF_CB * g) ** 2) *
        left(spread(RED_DIFFERENCE), chromaStep),
  )
}

interface CellSizes {
  readonly side: number
  readonly columns: number
  readonly rows: number
  readonly step: number
}

/** Of a cell: red, green, their squares and product, summed over its pixels. */
const MOMENTS = 5
type Moments = readonly [number, number, number, number, number]

function meanOver(
  sums: Float64Array,
  columns: number,
  left: number,
  top: number,
  reach: number,
  pixels: number,
): Moments {
  const mean: [number, number, number, number, number] = [0, 0, 0, 0, 0]
  const share = 1 / (pixels * (reach + 1) ** 2)
  for (let v = top; v <= top + reach; v++)
    for (let u = left; u <= left + reach; u++)
      for (let k = 0; k < MOMENTS; k++) mean[k]! += share * sums[MOMENTS * (v * columns + u) + k]!
  return mean
}

function cellSums(
  { width, rgb }: LightImage,
  side: number,
  columns: number,
  rows: number,
): Float64Array {
  const sums = new Float64Array(MOMENTS * columns * rows)
  for (let y = 0; y < rows * side; y++) {
    let at = MOMENTS * Math.floor(y / side) * columns
    let p = 3 * y * width
    for (let column = 0; column < columns; column++, at += MOMENTS)
      for (let k = 0; k < side; k++, p += 3) {
        const [red, green] = [rgb[p]!, rgb[p + 1]!]
        sums[at]! += red
        sums[at + 1]! += green
        sums[at + 2]! += red * red
        sums[at + 3]! += green * green
        sums[at + 4]! += red * green
      }
  }
  return sums
}
