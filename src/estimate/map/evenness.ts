/** What a map says as a whole: how even, which end is cooler, what stands out. Codes and numbers. */

import { median, quantile } from '../../numerics/statistics.ts'
import { SECOND_RADIATION_CONSTANT } from '../../physics/constants.ts'
import { RED_NM } from '../measured-ratio.ts'
import type { HeatMap, MeasuredCells } from './heat-map.ts'
import { LEAST_ACROSS, type StandingOut, standingOut } from './stand-out.ts'

/** The two ends of the longer axis of what was read, each a tenth of its length. */
export interface Ends {
  /** From the first end to the second, in the picture: x to the right, y down. */
  readonly towards: readonly [number, number]
  /** Second less first, K, with its standard uncertainty. */
  readonly differenceK: number
  readonly standardUncertaintyK: number
}

export interface Evenness {
  /** Half of the range that holds 95 % of the cells, their noise included, K. */
  readonly withinK: number
  readonly ends: Ends | null
  readonly hottest: number
  readonly coolest: number
  /** Hot and cool spots, the largest first. */
  readonly spots: readonly StandingOut[]
  /**
   * Places as hot as what is around them and brighter or darker: another emissivity. Rises in ln of
   * brightness. Only in linear light.
   */
  readonly surface: readonly StandingOut[]
  /** Standard uncertainty of a usual cell by its own noise, K. */
  readonly usualOwnK: number
  /** Spots that rise less or are narrower cannot be told in this picture; null: not known. */
  readonly leastSpot: LeastSpot | null
}

export interface LeastSpot {
  /** Null where no rise at all can be told. */
  readonly riseK: number | null
  readonly pixels: number
  /**
   * Why none can: what an unknown tone curve or the scale of colours leaves open grows with the rise, or
   * noise and coding hide all that metal may rise by. Null where a rise can be told, or nobody noted why.
   */
  readonly prevents: 'tone curve' | 'scale' | 'noise' | null
}

const END_SHARE = 0.1
/** Smaller ones matter to nobody, and JPEG makes some. */
const LEAST_SPOT_K = 3
/** By which a place must stand out, in units of what such places scatter by (see significance). */
const SCORE = 7.5
/** Brightness that scale, soot or a bare spot change at least: an emissivity of 0.8 to 0.7. */
const LEAST_SURFACE = 0.13
const MOST = 3
/** Standard uncertainties, the scale's own included, by which a spot must stand out. */
const SURE = 3
/**
 * Where the file codes in blocks they are one error for a whole block, and its limit is known: a spot
 * must rise further than a step of the block's mean and one of its first wave make, whose crest is the
 * root of two as high (T.81, A.3.3), and its own uncertainty must leave a rise.
 */
const CODED = { steps: 1 + Math.SQRT2, sure: 2, score: 5 }
/** Two blocks lie apart by the difference of two even errors of a step each: its variance is a sixth. */
const STEP_VARIANCE = 1 / 6

/** @param linear whether the light is linear, so that brightness can be told from heat */
export function evenness(map: HeatMap, measured: MeasuredCells, linear: boolean): Evenness {
  const { temperatureK, ownK, columns } = map
  const read: number[] = []
  for (let at = 0; at < temperatureK.length; at++)
    if (Number.isFinite(temperatureK[at]!)) read.push(at)
  const kelvins = read.map((at) => temperatureK[at]!)
  const limits = spotLimits(measured)
  const field = {
    columns,
    values: temperatureK,
    uncertainty: ownK,
    ...measured,
    crowded: limits.coded,
  }
  const spots = standingOut(field, LEAST_SPOT_K, limits.score)
    .map((spot) => withLeaning(map, spot, limits.codingK(spot)))
    .filter(
      (spot) =>
        limits.wideEnough(spot, map) &&
        Math.abs(spot.rise) > limits.riseK(limits.codingK(spot), spot.standardUncertainty),
    )
  const usual = (of: Float32Array) => median(read.map((at) => of[at]!))
  const usualOwnK = usual(ownK)
  const usualCodingK = usual(measured.coding)
  return {
    withinK: (quantile(kelvins, 0.975) - quantile(kelvins, 0.025)) / 2,
    ends: endsOf(map, read),
    hottest: surest(map, read, 1),
    coolest: surest(map, read, -1),
    spots: spots.slice(0, MOST),
    surface: linear ? surfaceParts(map, measured, limits, spots) : [],
    usualOwnK,
    leastSpot: {
      ...leastRise(
        (u) => limits.riseK(usualCodingK, u),
        spotUncertainty(usualOwnK, usualCodingK),
        leaningPerKelvin(map),
      ),
      pixels: Math.max(measured.blockPixels, LEAST_ACROSS * map.side),
    },
  }
}

const spotUncertainty = (ownK: number, codingK: number) =>
  Math.hypot(Math.SQRT2 * ownK, Math.sqrt(STEP_VARIANCE) * codingK)

/** Rises of spots that are tried, K. */
const RISES = { from: LEAST_SPOT_K, to: 300, factor: 1.02 }

/** The least rise that is told where what the scale leaves open of it is in proportion to it. */
function leastRise(
  asked: (standardUncertaintyK: number) => number,
  ownK: number,
  leaning: Leaning,
): Pick<LeastSpot, 'riseK' | 'prevents'> {
  const least = (perKelvin: number): number | null => {
    for (let rise = RISES.from; rise < RISES.to; rise *= RISES.factor)
      if (rise >= asked(Math.hypot(ownK, perKelvin * rise))) return rise
    return null
  }
  const riseK = least(Math.hypot(leaning.byRatio, leaning.byLevel))
  if (riseK !== null) return { riseK, prevents: null }
  if (least(0) === null) return { riseK, prevents: 'noise' }
  return { riseK, prevents: least(leaning.byRatio) === null ? 'scale' : 'tone curve' }
}

/** What is left open of a difference, per kelvin: by colour, and by the level that goes with it. */
interface Leaning {
  readonly byRatio: number
  readonly byLevel: number
}

function leaningPerKelvin({ scale: { temperatureK, byRatio, byLevel } }: HeatMap): Leaning {
  // Of a tone curve most is open at its shoulder, where hot spots lie: the steepest part counts.
  const slope = (x: readonly number[], y: readonly number[]) =>
    Math.max(...x.slice(1).map((to, i) => Math.abs((y[i + 1]! - y[i]!) / (to - x[i]!))))
  const levelPerKelvin = SECOND_RADIATION_CONSTANT / (RED_NM * 1e-9) / temperatureK ** 2
  return {
    byRatio: slope(byRatio.overK, byRatio.leaningK),
    byLevel: byLevel ? slope(byLevel.x, byLevel.leaningK) * levelPerKelvin : 0,
  }
}

type SpotLimits = ReturnType<typeof spotLimits>

/** What is asked of a spot in this picture. */
function spotLimits({ coding, blockPixels }: MeasuredCells) {
  const coded = blockPixels > 0
  return {
    coded,
    wideEnough: ({ across }: StandingOut, { side }: HeatMap) => across * side >= blockPixels,
    /** Without shoulders (see significance), which stand for what the coding does. */
    score: coded ? CODED.score : SCORE,
    /** Half a step of the spot's blocks, half a step of those around. */
    codingK: ({ peak, around }: StandingOut) =>
      (coding[peak]! + median(around.map((at) => coding[at]!))) / 2,
    riseK: (codingK: number, standardUncertaintyK: number) =>
      Math.max(
        LEAST_SPOT_K,
        CODED.steps * codingK,
        (coded ? CODED.sure : SURE) * standardUncertaintyK,
      ),
  }
}

/** A spot with what coding and the scale itself leave open between it and its surroundings. */
function withLeaning(
  { leaningK, levelLeaningK, ownK }: HeatMap,
  spot: StandingOut,
  codingK: number,
): StandingOut {
  const over = (of: Float32Array) => of[spot.peak]! - median(spot.around.map((at) => of[at]!))
  const standardUncertainty = Math.hypot(
    spotUncertainty(ownK[spot.peak]!, codingK),
    over(leaningK),
    over(levelLeaningK),
  )
  return { ...spot, standardUncertainty }
}

/**
 * The extreme after each cell is shrunk towards the mean by its own noise. A cell counts as hot as the middle
 * one of it and its neighbours: a single one is what a hot pixel or the rim of a flake makes.
 */
function surest(map: HeatMap, read: readonly number[], sign: 1 | -1): number {
  const { columns, temperatureK, ownK } = map
  let [best, most] = [read[0]!, Number.NEGATIVE_INFINITY]
  for (const at of read) {
    // Most cells are out by themselves, which is sooner seen.
    if (!(sign * temperatureK[at]! - ownK[at]! > most)) continue
    const around = [-columns, 0, columns].flatMap((row) =>
      [-1, 0, 1].map((column) => sign * temperatureK[at + row + column]!).filter(Number.isFinite),
    )
    const value = Math.min(median(around), sign * temperatureK[at]!) - ownK[at]!
    if (value > most) [best, most] = [at, value]
  }
  return best
}

/** Cells whose noise is independent of each other's, about: those of the largest neighbourhood. */
const INDEPENDENT = 60

function endsOf(map: HeatMap, read: readonly number[]): Ends | null {
  const { columns, temperatureK, ownK } = map
  const x = (at: number) => at % columns
  const y = (at: number) => Math.floor(at / columns)
  const mean = (of: readonly number[], value: (at: number) => number) =>
    of.reduce((sum, at) => sum + value(at), 0) / of.length
  const [mx, my] = [mean(read, x), mean(read, y)]
  const xx = mean(read, (at) => (x(at) - mx) ** 2)
  const yy = mean(read, (at) => (y(at) - my) ** 2)
  const xy = mean(read, (at) => (x(at) - mx) * (y(at) - my))
  // The longer axis of the ellipse of inertia.
  const angle = Math.atan2(2 * xy, xx - yy) / 2
  const towards = [Math.cos(angle), Math.sin(angle)] as const
  const along = (at: number) => (x(at) - mx) * towards[0] + (y(at) - my) * towards[1]
  const sorted = [...read].sort((a, b) => along(a) - along(b))
  const count = Math.floor(END_SHARE * sorted.length)
  if (count < 2) return null
  const [first, second] = [sorted.slice(0, count), sorted.slice(-count)]
  const noise = (of: readonly number[]) =>
    mean(of, (at) => ownK[at]!) / Math.sqrt(Math.max(of.length / INDEPENDENT, 1))
  const apart = (of: Float32Array) => mean(second, (at) => of[at]!) - mean(first, (at) => of[at]!)
  const kelvin = (of: readonly number[]) => mean(of, (at) => temperatureK[at]!)
  return {
    towards,
    differenceK: kelvin(second) - kelvin(first),
    standardUncertaintyK: Math.hypot(
      noise(first),
      noise(second),
      apart(map.leaningK),
      apart(map.levelLeaningK),
    ),
  }
}

/**
 * Parts of another brightness where the colour is even; ln of brightness less what the heat explains. They
 * must rise above what a spot of this picture must, as brightness: else a hot spot whose colour the file has
 * smeared would be told as surface. Smoothing lowers a small spot's heat too, so that the colour as it was
 * measured must say the same.
 */
function surfaceParts(
  map: HeatMap,
  { raw, noise }: MeasuredCells,
  limits: SpotLimits,
  spots: readonly StandingOut[],
): StandingOut[] {
  const { temperatureK, ownK, lnRed, columns } = map
  const steepness = SECOND_RADIATION_CONSTANT / (RED_NM * 1e-9)
  const unexplained = (kelvin: Float32Array) =>
    lnRed.map((level, at) => level + steepness / kelvin[at]!)
  const perKelvin = (u: number, at: number) => (steepness * u) / temperatureK[at]! ** 2
  const field = {
    columns,
    values: unexplained(temperatureK),
    uncertainty: ownK.map(perKelvin),
    raw: unexplained(raw),
    noise: noise.map(perKelvin),
    crowded: true,
  }
  const hot = new Set(spots.flatMap(({ cells }) => cells))
  const asMeasured = ({ cells, around }: StandingOut) =>
    median(cells.map((at) => field.raw[at]!)) - median(around.map((at) => field.raw[at]!))
  return standingOut(field, LEAST_SURFACE, SCORE)
    .filter((part) => {
      const { peak, rise } = part
      const codingK = limits.codingK(part)
      const least = perKelvin(limits.riseK(codingK, spotUncertainty(ownK[peak]!, codingK)), peak)
      return (
        !hot.has(peak) &&
        limits.wideEnough(part, map) &&
        Math.abs(rise) > least &&
        Math.sign(rise) * asMeasured(part) > LEAST_SURFACE / 2
      )
    })
    .slice(0, MOST)
}
