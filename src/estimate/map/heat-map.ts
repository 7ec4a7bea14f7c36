/** The temperatures of a picture's cells on one scale, and how sure two of them differ. */
import { CELL_STATES, type HeatCells } from '../../light/map/heat-cells.ts'
import { type SmoothCells, smoothCells } from '../../light/map/smooth-cells.ts'
import { median, quantile } from '../../numerics/statistics.ts'
import type { CameraLocus } from '../camera-locus/types.ts'
import type { GlowInput, TemperatureEstimate } from '../types.ts'
import {
  type HeatScale,
  heatScale,
  type LinearityAt,
  type MapColour,
  scaleCurves,
} from './heat-scale.ts'

/** Arrays hold one value a cell, row by row; NaN where nothing is read. */
export interface HeatMap extends Pick<HeatCells, 'columns' | 'rows' | 'side' | 'left' | 'top'> {
  /** Index into {@link MAP_STATES}. */
  readonly state: Uint8Array
  readonly temperatureK: Float32Array
  /** Standard uncertainty by the cell's own noise and the file's coding, K. */
  readonly ownK: Float32Array
  /** What it errs by against the reading's place together with the cells of its colour, signed, K. */
  readonly leaningK: Float32Array
  /** The same for the cells of its level; 0 in linear light. */
  readonly levelLeaningK: Float32Array
  readonly lnRed: Float32Array
  readonly scale: HeatScale
  /** Width left out along outlines, and how many times closer narrow parts must be photographed. */
  readonly marginPixels: number
  readonly blurPixels: number
  readonly closer: number
}

export const MAP_STATES = [...CELL_STATES, 'below range'] as const
export type MapState = (typeof MAP_STATES)[number]
export const stateCode = (state: MapState): number => MAP_STATES.indexOf(state)

/** Below this no estimate gives a number (see estimate-glow). */
const COLDEST_K = 900
/** Rows of the table. */
const ROWS = 5
/** Fewer cells make no map. */
export const LEAST_CELLS = 12
/** Share at each end of the colours that the table need not reach. */
const ENDS = 0.01

/**
 * @param inRegion whether a cell lies where the reading was taken
 * @returns null where too few cells can be read or the picture has no single scale
 */
export function heatMap(
  cells: HeatCells,
  input: GlowInput,
  estimate: TemperatureEstimate,
  linearityAt: LinearityAt,
  inRegion: (at: number) => boolean,
  locus?: CameraLocus,
): HeatMap | null {
  const smooth = smoothCells(cells)
  const read: number[] = []
  for (let at = 0; at < smooth.lnRatio.length; at++)
    if (Number.isFinite(smooth.lnRatio[at]!)) read.push(at)
  if (read.length < LEAST_CELLS) return null
  const colour = (of: readonly number[]): MapColour => ({
    lnRatio: median(of.map((at) => smooth.lnRatio[at]!)),
    lnRed: median(of.map((at) => cells.lnRed[at]!)),
  })
  const here = read.filter(inRegion)
  const at = colour(here.length > 0 ? here : read)
  const sorted = read.sort((a, b) => smooth.lnRatio[a]! - smooth.lnRatio[b]!)
  const part = Math.max(1, Math.floor(ENDS * sorted.length))
  const ratios = Array.from({ length: ROWS }, (_, i) => {
    const from = Math.round((i / (ROWS - 1)) * (sorted.length - part))
    return median(sorted.slice(from, from + part).map((cell) => smooth.lnRatio[cell]!))
  })
  const reds = read.map((cell) => cells.lnRed[cell]!)
  const levels = [quantile(reds, ENDS), quantile(reds, 1 - ENDS)] as const
  const scale = heatScale(input, estimate, at, ratios, levels, linearityAt, locus)
  if (scale === null) return null
  return heatMapOn(scale, cells, smooth)
}

/**
 * Standard deviation over the whole width of the file's coding error: even errors in Y, Cb and Cr of 0.39,
 * 0.16 and 0.45 of it (a dull red, G of code 35), each of a twelfth of its square. Where colour is halved
 * its blocks are as wide as the reach over which noise is measured: of that and the steps of codes the larger
 * counts. Between smaller ones, which lie on one side in whole groups, it hides from the differences that
 * tell noise, and all three add.
 */
const CODING_SHARE = 0.18
const NOISE_REACH_PIXELS = 16

/** The cells on a scale that is already there. */
export function heatMapOn(scale: HeatScale, cells: HeatCells, smooth: SmoothCells): HeatMap {
  const curves = scaleCurves(scale)
  const hidden = cells.blockPixels < NOISE_REACH_PIXELS
  const n = smooth.lnRatio.length
  const temperatureK = new Float32Array(n).fill(Number.NaN)
  const ownK = new Float32Array(n).fill(Number.NaN)
  const leaningK = new Float32Array(n).fill(Number.NaN)
  const levelLeaningK = new Float32Array(n).fill(Number.NaN)
  const state = cells.state.slice()
  for (const [cell, lnRatio] of smooth.lnRatio.entries()) {
    if (!Number.isFinite(lnRatio)) continue
    const lnRed = cells.lnRed[cell]!
    const kelvin = curves.temperatureK(lnRatio, lnRed)
    if (!(kelvin >= COLDEST_K)) {
      state[cell] = stateCode('below range')
      continue
    }
    temperatureK[cell] = kelvin
    const [noise, step] = [smooth.lnNoise[cell]!, cells.lnStep[cell]!]
    ownK[cell] =
      curves.slopeK(lnRatio) *
      (hidden
        ? Math.hypot(noise, step, CODING_SHARE * cells.lnCoding[cell]!)
        : Math.max(noise, step))
    leaningK[cell] = curves.leaningK(lnRatio)
    levelLeaningK[cell] = curves.levelLeaningK(lnRed)
  }
  const { columns, rows, side, left, top, lnRed, marginPixels, blurPixels, closer } = cells
  return {
    columns,
    rows,
    side,
    left,
    top,
    state,
    temperatureK,
    ownK,
    leaningK,
    levelLeaningK,
    lnRed,
    scale,
    marginPixels,
    blurPixels,
    closer,
  }
}

/** How much hotter one part of a map is than another. */
export interface HeatDifference {
  readonly differenceK: number
  readonly standardUncertaintyK: number
}

/**
 * Second cell less first. What both share drops out: camera, card and surface as far as they move both
 * alike, which is all of them for places of one colour.
 */
export function cellDifference(map: HeatMap, first: number, second: number): HeatDifference {
  const { temperatureK, ownK, leaningK, levelLeaningK } = map
  return {
    differenceK: temperatureK[second]! - temperatureK[first]!,
    standardUncertaintyK: Math.hypot(
      ownK[first]!,
      ownK[second]!,
      leaningK[second]! - leaningK[first]!,
      levelLeaningK[second]! - levelLeaningK[first]!,
    ),
  }
}

/** Temperatures of the cells as they were measured, not smoothed, and the noise of each, K. */
export interface MeasuredCells {
  readonly raw: Float32Array
  readonly noise: Float32Array
  /** How far places of one temperature may lie apart by the file's coding. */
  readonly coding: Float32Array
  /** Side of the blocks that err as one by it, pixels of the picture; 0: none. */
  readonly blockPixels: number
}

export function measuredTemperatures(
  { scale, temperatureK }: Pick<HeatMap, 'scale' | 'temperatureK'>,
  { lnRatio, lnRed, lnNoise, lnCoding, blockPixels }: HeatCells,
): MeasuredCells {
  const curves = scaleCurves(scale)
  const read = (value: (at: number) => number) =>
    temperatureK.map((kelvin, at) => (Number.isNaN(kelvin) ? Number.NaN : value(at)))
  return {
    raw: read((at) => curves.temperatureK(lnRatio[at]!, lnRed[at]!)),
    noise: read((at) => curves.slopeK(lnRatio[at]!) * lnNoise[at]!),
    coding: read((at) => curves.slopeK(lnRatio[at]!) * lnCoding[at]!),
    blockPixels,
  }
}
