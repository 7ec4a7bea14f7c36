/**
 * From ln(G/R) of a place in a picture to its temperature, by the estimate that reads the picture: a
 * table through readings of the picture's own range of colours, put into one problem.
 */
import { monotoneCubic } from '../../numerics/monotone-cubic.ts'
import { CAMERA_LOCUS } from '../camera-locus/camera-locus.ts'
import type { CameraLocus } from '../camera-locus/types.ts'
import { cameraPosterior, mostProbable } from '../camera-posterior.ts'
import { ofOnePiece } from '../difference.ts'
import { glowProblem, type PlaceInput } from '../glow-problem.ts'
import { referenceDoubts, tolerateConflicts } from '../reference-check.ts'
import type { GlowInput, Linearity, TemperatureEstimate } from '../types.ts'
import { type PlaceDifference, placeDifferences } from './place-differences.ts'

/** A colour of the picture: ln(G/R), and ln of the red level that goes with it. */
export interface MapColour {
  readonly lnRatio: number
  readonly lnRed: number
}

/** A smooth function given by rows, its error against the reading's place with it. */
export interface ScaleTable {
  /** Rising. */
  readonly x: readonly number[]
  /** K over the reading's place. */
  readonly overK: readonly number[]
  /**
   * By how much each row errs against the reading's place, K: standard uncertainty, negative below it.
   * Two places err against each other by the difference of theirs.
   */
  readonly leaningK: readonly number[]
}

export interface HeatScale {
  /** Temperature of the reading's place, K, and what shifts the whole map with it. */
  readonly temperatureK: number
  readonly commonK: number
  readonly common95K: number
  /** Colour of the reading's place. */
  readonly at: MapColour
  /** Over ln(G/R), at the level of the reading's place. */
  readonly byRatio: ScaleTable
  /**
   * Over ln(red), at the ratio of the reading's place: an unknown tone curve bends ln(G/R) by the level.
   * Null in linear light.
   */
  readonly byLevel: ScaleTable | null
}

/** Noise has no place in the table: each cell has its own. */
const NO_NOISE = 1e-12
/** Rows of the table are at least so far apart in ln(G/R): 7 K at 1173 K. */
const LEAST_SPAN = 0.02
/** The same in ln(red). */
const LEAST_LEVELS = 0.1

/** How the light of a colour came about; for curves, which err otherwise at another level. */
export type LinearityAt = (colour: MapColour) => Linearity

/**
 * @param input of the reading, whose `estimate` is the height of the map
 * @param at colour that the map shows where the reading was taken
 * @param ratios ln(G/R) of the picture, rising, at least one
 * @param levels lowest and highest ln(red) of the picture
 * @returns null where the colours cannot be put on one scale
 */
export function heatScale(
  input: GlowInput,
  estimate: TemperatureEstimate,
  at: MapColour,
  ratios: readonly number[],
  levels: readonly [number, number],
  linearityAt: LinearityAt,
  locus: CameraLocus = CAMERA_LOCUS,
): HeatScale | null {
  const { lnRatio, lnRed } = at
  const bent = input.linearity.kind === 'single' || input.linearity.kind === 'sweep'
  const ratioRows = spread(lnRatio, ratios, LEAST_SPAN)
  const levelRows = bent ? spread(lnRed, levels, LEAST_LEVELS) : []
  const colours: MapColour[] = [
    ...ratioRows.map((ratio) => ({ lnRatio: ratio, lnRed })),
    ...levelRows.map((level) => ({ lnRatio, lnRed: level })),
  ]
  const place = (colour: MapColour): PlaceInput => placeOf(input, colour, linearityAt(colour))
  // The reading at the map's own colour, with its blue: what the camera may be follows from it.
  const reading = { ...place(at), quality: input.quality }
  const built = glowProblem(reading, locus, colours.map(place))
  const before = cameraPosterior(built)
  const problem = tolerateConflicts(before, referenceDoubts(before))
  const posterior = mostProbable(problem === built ? before : cameraPosterior(problem))
  const found = placeDifferences(posterior, estimate.colourTemperatureK)
  const table = (
    x: readonly number[],
    of: readonly PlaceDifference[],
    here: number,
  ): ScaleTable => ({
    x,
    overK: of.map(({ middle }) => middle),
    leaningK: of.map(({ sd }, i) => Math.sign(x[i]! - here) * sd),
  })
  const byRatio = table(ratioRows, found.slice(0, ratioRows.length), lnRatio)
  if (!byRatio.overK.every((kelvin, i) => i === 0 || kelvin > byRatio.overK[i - 1]!)) return null
  return {
    temperatureK: estimate.temperatureK,
    commonK: estimate.standardUncertaintyK,
    common95K: estimate.expandedUncertaintyK,
    at,
    byRatio,
    byLevel: bent ? table(levelRows, found.slice(ratioRows.length), lnRed) : null,
  }
}

const PHOTO = 'this'

/** The given values with the reading's own among them, far enough apart for a curve. */
function spread(here: number, values: readonly number[], least: number): number[] {
  const below = values.filter((value) => value <= here - least)
  const above = values.filter((value) => value >= here + least)
  const apart = (list: readonly number[]) =>
    list.filter((value, i) => i === 0 || value - list[i - 1]! >= least)
  return [
    ...(below.length > 0 ? apart(below) : [here - 2 * least]),
    here,
    ...(above.length > 0 ? apart(above) : [here + 2 * least]),
  ]
}

function placeOf(
  input: GlowInput,
  { lnRatio, lnRed }: MapColour,
  linearity: Linearity,
): PlaceInput {
  const [r, , b] = input.glow.mean
  const red = Math.exp(lnRed)
  const noise = NO_NOISE * red * red
  const { level: _, ...rest } = ofOnePiece(input)
  return {
    ...rest,
    glow: {
      mean: [red, red * Math.exp(lnRatio), (b / r) * red],
      covariance: [
        [noise, 0, 0],
        [0, noise, 0],
        [0, 0, noise],
      ],
    },
    // Its blue is only checked (off-colour): each place's own stray blue would part the rows.
    quality: { ...input.quality, floorShare: [0, 0, 1] },
    linearity,
    photo: PHOTO,
  }
}

/** The tables as curves. */
export interface ScaleCurves {
  temperatureK(lnRatio: number, lnRed: number): number
  /** dT / d ln(G/R), K. */
  slopeK(lnRatio: number): number
  /** Errors against the reading's place, K; by ratio and by level. */
  leaningK(lnRatio: number): number
  levelLeaningK(lnRed: number): number
}

export function scaleCurves({ temperatureK, byRatio, byLevel }: HeatScale): ScaleCurves {
  const curve = (x: readonly number[], values: readonly number[]) =>
    monotoneCubic(x.map((at, i) => [at, values[i]!] as const))
  const over = curve(byRatio.x, byRatio.overK)
  const leaning = curve(byRatio.x, byRatio.leaningK)
  const levelOver = byLevel && curve(byLevel.x, byLevel.overK)
  const levelLeaning = byLevel && curve(byLevel.x, byLevel.leaningK)
  return {
    temperatureK: (lnRatio, lnRed) =>
      temperatureK + over.value(lnRatio) + (levelOver?.value(lnRed) ?? 0),
    slopeK: (lnRatio) => over.slope(lnRatio),
    leaningK: (lnRatio) => leaning.value(lnRatio),
    levelLeaningK: (lnRed) => levelLeaning?.value(lnRed) ?? 0,
  }
}
