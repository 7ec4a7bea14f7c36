import type { Triple } from '../../numerics/matrix3.ts'
import { median } from '../../numerics/statistics.ts'
import { BLUR_REACH, HALVED_COLOUR } from '../blur-reach.ts'
import type { CodingSteps } from '../exposure-sweep/frame-levels.ts'
import { connectedParts } from '../grid.ts'
import { CLIPPED, FLOOR_GREEN, type LightImage, type Region } from '../image.ts'
import { cellNoise } from './cell-noise.ts'
import { codingError } from './coding-error.ts'
import { edgeReach } from './edge-reach.ts'
import { glowOutline, OUTLINE_OUTSIDE } from './glow-outline.ts'
import { offColour } from './off-colour.ts'
import { stepError } from './step-error.ts'

/** What became of a cell, in this order as numbers. */
export const CELL_STATES = [
  'read',
  'not glow',
  'dark',
  'clipped',
  /** Within the reach of an outline: blur, colour at half resolution, JPEG. */
  'edge',
  /** In a part so narrow that blur reaches its middle from both sides. */
  'thin',
  /** Its blue fits no glow of this picture: a reflection, a flame, a flare. */
  'off locus',
] as const
export type CellState = (typeof CELL_STATES)[number]
const code = (state: CellState) => CELL_STATES.indexOf(state)

/** Square cells over the glow. Arrays hold one value a cell, row by row; NaN where nothing is read. */
export interface HeatCells {
  readonly columns: number
  readonly rows: number
  /** Side of a cell and upper left corner of the first one, pixels of the picture. */
  readonly side: number
  readonly left: number
  readonly top: number
  /** Index into {@link CELL_STATES}. */
  readonly state: Uint8Array
  /** ln(G/R) of the mean linear light, background taken off. */
  readonly lnRatio: Float32Array
  /** Its standard uncertainty by noise, measured in the picture. */
  readonly lnNoise: Float32Array
  /** How far blocks of its colour may lie apart by the file's coding (see coding-error). */
  readonly lnCoding: Float32Array
  /** Standard uncertainty of ln(G/R) by the steps of the file's codes (see step-error); 0: none. */
  readonly lnStep: Float32Array
  /** Side of the blocks that err as one by it, pixels of the picture; 0: none. */
  readonly blockPixels: number
  readonly lnRed: Float32Array
  /** Cells across which noise is one (JPEG blocks, demosaicing), and how much larger it makes means. */
  readonly noiseReach: number
  readonly noiseGrowth: number
  /** Standard deviation of the blur; NaN where no outline is in sight. Pixels of the picture. */
  readonly blurPixels: number
  /** Width left out along outlines, pixels of the picture. */
  readonly marginPixels: number
  /** How many times wider its narrow parts must appear to be read; 1 where none was left out. */
  readonly closer: number
}

export interface CellOptions {
  /** The file stores colour at half resolution. */
  readonly chromaSubsampled: boolean
  /** In which its blocks are coded; null: no blocks. */
  readonly codingSteps: CodingSteps | null
  /** Light around the glow, linear; null: none is known. */
  readonly background: Triple | null
}

/** Most cells along the longer side. */
const LONGEST = 240

/** As HALVED_COLOUR, where colour is whole. */
const FULL_COLOUR = 1
/** Where no outline is in sight nothing is cut, but an unsharp one may begin at the picture's edge. */
const UNSEEN_BLUR = 1
/** Linear red below which there is no light to measure: as in measure-glow. */
const DARK_LEVEL = 0.002
/** Red stands out of the background from so many times it. */
const OVER_BACKGROUND = 3
/** Linear green below this is a handful of codes. */
const DARK_GREEN = 0.0004
const LEAST_SIDE = 2
/** Fewer thin cells are a corner, not a narrow part. */
const LEAST_THIN = 12
/** Share of floor pixels from which a mean is a bound (see measure-glow). */
const FLOOR_SHARE = 0.05

/**
 * Cuts the glow under a region into cells.
 *
 * @param light linear light of the glow and what lies around it
 * @param region in pixels of `light`; the map covers the glow that is connected with it
 * @param step pixels of the picture for each one of `light`
 */
export function heatCells(
  light: LightImage,
  region: Region,
  options: CellOptions,
  step = 1,
): HeatCells {
  const { codingSteps } = options
  const background = options.background ?? [0, 0, 0]
  const darkest = Math.max(DARK_LEVEL, OVER_BACKGROUND * background[0])
  const { depth, blurPixels } = glowOutline(light, darkest)
  const blur = Number.isFinite(blurPixels) ? blurPixels : UNSEEN_BLUR
  // The outline lies outside of the half level, by the blur: both together.
  const colour = (options.chromaSubsampled ? HALVED_COLOUR : FULL_COLOUR) / step
  const least = (BLUR_REACH + OUTLINE_OUTSIDE) * blur + colour
  const { width, height } = light
  const side = Math.max(LEAST_SIDE, Math.ceil(Math.max(width, height) / LONGEST))
  const columns = Math.floor(width / side)
  const rows = Math.floor(height / side)
  const sums = sumCells(light, depth, side, columns, rows)
  const n = columns * rows
  const state = new Uint8Array(n)
  const lnRatio = new Float32Array(n).fill(Number.NaN)
  const lnRed = new Float32Array(n).fill(Number.NaN)
  const lnCoding = new Float32Array(n).fill(Number.NaN)
  const blueOverRed = new Float32Array(n).fill(Number.NaN)
  const pixels = side * side
  for (let at = 0; at < n; at++) {
    const red = sums.red[at]! / pixels - background[0]
    const green = sums.green[at]! / pixels - background[1]
    if (sums.deepest[at] === 0) state[at] = code('not glow')
    else if (sums.clipped[at]! > 0) state[at] = code('clipped')
    else if (sums.shallowest[at]! < least) state[at] = code('edge')
    else if (!(red > darkest && green > DARK_GREEN) || sums.floor[at]! > FLOOR_SHARE * pixels)
      state[at] = code('dark')
    else {
      lnRatio[at] = Math.log(green / red)
      lnRed[at] = Math.log(red)
      lnCoding[at] = codingSteps
        ? codingError(red + background[0], green + background[1], codingSteps)
        : 0
      blueOverRed[at] = (sums.blue[at]! / pixels - background[2]) / red
    }
  }
  const usual = cellNoise(lnRatio, lnRed, columns, rows, side * step).lnNoise
  const margin = edgeReach(lnRatio, usual, sums.shallowest, columns, side, least)
  for (let at = 0; at < n; at++) {
    if (state[at] !== code('read') || sums.shallowest[at]! >= margin) continue
    state[at] = code('edge')
    lnRatio[at] = Number.NaN
  }
  const closer = markThin(sums.deepest, state, columns, rows, margin, side)
  keepConnected(state, lnRatio, columns, rows, region, side)
  for (const at of offColour(lnRatio, blueOverRed)) {
    state[at] = code('off locus')
    lnRatio[at] = Number.NaN
  }
  const noise = cellNoise(lnRatio, lnRed, columns, rows, side * step)
  return {
    columns,
    rows,
    side: side * step,
    left: 0,
    top: 0,
    state,
    lnRatio,
    lnRed,
    lnNoise: noise.lnNoise,
    lnCoding,
    lnStep: codingSteps
      ? stepError(light, codingSteps, { side, columns, rows, step })
      : new Float32Array(n),
    blockPixels: codingSteps === null ? 0 : options.chromaSubsampled ? 16 : 8,
    noiseReach: noise.reach,
    noiseGrowth: noise.growth,
    blurPixels: blurPixels * step,
    marginPixels: (margin - OUTLINE_OUTSIDE * blur) * step,
    closer,
  }
}

function sumCells(
  { width, rgb, flags }: LightImage,
  depth: Float32Array,
  side: number,
  columns: number,
  rows: number,
) {
  const n = columns * rows
  const red = new Float64Array(n)
  const green = new Float64Array(n)
  const blue = new Float64Array(n)
  const clipped = new Uint16Array(n)
  const floor = new Uint16Array(n)
  const shallowest = new Float32Array(n).fill(Number.POSITIVE_INFINITY)
  const deepest = new Float32Array(n)
  for (let y = 0; y < rows * side; y++) {
    const row = Math.floor(y / side) * columns
    let p = y * width
    for (let column = 0; column < columns; column++) {
      const at = row + column
      for (let k = 0; k < side; k++, p++) {
        red[at]! += rgb[3 * p]!
        green[at]! += rgb[3 * p + 1]!
        blue[at]! += rgb[3 * p + 2]!
        const flag = flags[p]!
        if (flag & CLIPPED) clipped[at]!++
        if (flag & FLOOR_GREEN) floor[at]!++
        const d = depth[p]!
        if (d < shallowest[at]!) shallowest[at] = d
        if (d > deepest[at]!) deepest[at] = d
      }
    }
  }
  return { red, green, blue, clipped, floor, shallowest, deepest }
}

/**
 * Of the cells near an outline those along the middle of a narrow part: no cell beside them lies deeper,
 * and none of them lies deep enough.
 *
 * @returns how many times wider narrow parts must appear
 */
function markThin(
  deepest: Float32Array,
  state: Uint8Array,
  columns: number,
  rows: number,
  margin: number,
  side: number,
): number {
  const needed = margin + side
  const closer: number[] = []
  for (let at = 0; at < state.length; at++) {
    if (state[at] !== code('edge')) continue
    const x = at % columns
    const own = deepest[at]!
    let most = own
    for (let dy = -1; dy <= 1; dy++)
      for (let dx = -1; dx <= 1; dx++) {
        const [u, v] = [x + dx, (at - x) / columns + dy]
        if (u >= 0 && v >= 0 && u < columns && v < rows)
          most = Math.max(most, deepest[v * columns + u]!)
      }
    // A ridge: half a cell of tolerance, because a middle may lie between two cells.
    if (own < most - side / 4 || most >= needed) continue
    state[at] = code('thin')
    closer.push(needed / Math.max(own, 1))
  }
  return closer.length < LEAST_THIN ? 1 : median(closer)
}

/** Other glows in the picture are not this one. */
function keepConnected(
  state: Uint8Array,
  lnRatio: Float32Array,
  columns: number,
  rows: number,
  region: Region,
  side: number,
): void {
  const [u0, v0] = [region.x / side, region.y / side]
  const [u1, v1] = [(region.x + region.width) / side, (region.y + region.height) / side]
  const inRegion = (at: number) => {
    const x = at % columns
    const y = (at - x) / columns
    return x + 1 > u0 && x < u1 && y + 1 > v0 && y < v1
  }
  const isIn = (at: number) => state[at] !== code('not glow')
  for (const part of connectedParts(columns, rows, isIn, () => true)) {
    if (part.some(inRegion)) continue
    for (const at of part) {
      state[at] = code('not glow')
      lnRatio[at] = Number.NaN
    }
  }
}
