/** How much hotter each place of a view is in a later map than in an earlier one. */
import { findShift, LARGEST_SHIFT } from '../../light/exposure-sweep/align.ts'
import type { StoredImage } from '../../light/image.ts'
import { monotoneCubic } from '../../numerics/monotone-cubic.ts'
import { median } from '../../numerics/statistics.ts'
import { NORMAL_95 } from '../budget.ts'
import { type HeatMap, stateCode } from './heat-map.ts'
import type { HeatScale } from './heat-scale.ts'

/** Cells of the earlier map; NaN where one of the two maps has no temperature. */
export interface MapChange extends Pick<HeatMap, 'columns' | 'rows' | 'side' | 'left' | 'top'> {
  /** Later less earlier, K. */
  readonly changeK: Float32Array
  /** Standard uncertainty by all that the two maps do not share, what shifts all cells included, K. */
  readonly standardUncertaintyK: Float32Array
  /** The same for a cell's change against the middle one of all. */
  readonly againstMiddleK: Float32Array
  /** Whether the cell glows in one of the two at least. */
  readonly glows: Uint8Array
  /** By how much the later picture is displaced, pixels. */
  readonly shift: { readonly dx: number; readonly dy: number }
  /** Change of the middle cell, K, and its standard uncertainty. */
  readonly middleK: number
  readonly middleUncertaintyK: number
}

export type ChangeRefusal =
  /** The outlines do not fit on each other: another view, or the piece was moved or turned. */
  | { readonly kind: 'other view'; readonly correlation: number }
  /** Too few cells were read in both. */
  | { readonly kind: 'too few'; readonly cells: number }

export type MapChangeResult = ({ readonly kind: 'change' } & MapChange) | ChangeRefusal

/** The difference of the two readings, later less earlier. */
export interface ReadingChange {
  readonly differenceK: number
  readonly standardUncertaintyK: number
  /** Whether one camera in one state took both, so that its scale errs alike in both. */
  readonly oneCamera: boolean
}

/** As for the frames of a sweep (see place-frames). */
const LEAST_CORRELATION = 0.9
/** Fewer cells make no statement. */
const LEAST_CELLS = 12
/** Standard uncertainty of the alignment, cells, each way: outlines are known to whole cells. */
const ALIGNED = 0.3
/** Cells to each side over which a slope is taken. */
const SLOPE_REACH = 2

export function mapChange(
  earlier: HeatMap,
  later: HeatMap,
  readings: ReadingChange,
): MapChangeResult {
  const found = alignment(earlier, later)
  if (found.correlation < LEAST_CORRELATION)
    return { kind: 'other view', correlation: found.correlation }
  const { dx, dy } = found
  const { columns, rows, side, left, top } = earlier
  const n = columns * rows
  const unread = () => new Float32Array(n).fill(Number.NaN)
  const [changeK, own, leaning, levelLeaning] = [unread(), unread(), unread(), unread()]
  const glows = new Uint8Array(n)
  const notGlow = stateCode('not glow')
  const apart = (a: number, b: number) => (readings.oneCamera ? b - a : Math.hypot(a, b))
  // One camera errs by one scale in both maps: what it errs by between the two readings drops out where
  // a place changes as they do, and what is left of their difference shifts all places alike.
  const leaningAt = leaningOver(earlier.scale)
  const steepness = readings.oneCamera ? leaningAt(readings.differenceK) : 0
  const shiftK = Math.sqrt(Math.max(readings.standardUncertaintyK ** 2 - steepness ** 2, 0))
  const misplaced = (ALIGNED * Math.max(side, later.side)) / later.side
  const compared: number[] = []
  for (let at = 0; at < n; at++) {
    const column = at % columns
    const u = (left + (column + 0.5) * side + dx - later.left) / later.side - 0.5
    const v = (top + ((at - column) / columns + 0.5) * side + dy - later.top) / later.side - 0.5
    const there = sampleAt(later, u, v)
    if (earlier.state[at] !== notGlow || (there && there.state !== notGlow)) glows[at] = 1
    const before = earlier.temperatureK[at]!
    if (!there || Number.isNaN(before) || Number.isNaN(there.temperatureK)) continue
    const rise = there.temperatureK - later.scale.temperatureK
    const risen = before - earlier.scale.temperatureK
    changeK[at] = readings.differenceK + rise - risen
    own[at] = Math.hypot(earlier.ownK[at]!, there.ownK, misplaced * there.slopeK)
    leaning[at] = readings.oneCamera
      ? leaningAt(readings.differenceK + rise) - leaningAt(risen)
      : apart(earlier.leaningK[at]!, there.leaningK)
    levelLeaning[at] = apart(earlier.levelLeaningK[at]!, there.levelLeaningK)
    compared.push(at)
  }
  if (compared.length < LEAST_CELLS) return { kind: 'too few', cells: compared.length }
  const middle = (of: Float32Array) => median(compared.map((at) => of[at]!))
  const [middleLeaning, middleLevel] = [middle(leaning), middle(levelLeaning)]
  // Cameras that differ lean each for itself, and what is open has no sign to subtract.
  const [from, fromLevel] = readings.oneCamera ? [middleLeaning, middleLevel] : [0, 0]
  return {
    kind: 'change',
    columns,
    rows,
    side,
    left,
    top,
    changeK,
    glows,
    shift: { dx, dy },
    middleK: middle(changeK),
    middleUncertaintyK: Math.hypot(shiftK, middleLeaning, middleLevel),
    standardUncertaintyK: own.map((noise, at) =>
      Math.hypot(noise, shiftK, leaning[at]!, levelLeaning[at]!),
    ),
    againstMiddleK: own.map((noise, at) =>
      Math.hypot(noise, leaning[at]! - from, levelLeaning[at]! - fromLevel),
    ),
  }
}

/** What a scale errs by against its reading's place, K, over the kelvin above that place. */
function leaningOver({ byRatio: { overK, leaningK } }: HeatScale): (overK: number) => number {
  const curve = monotoneCubic(overK.map((over, i) => [over, leaningK[i]!] as const))
  return (over) => curve.value(over)
}

/** What a change says as a whole. Shares are of the cells that were compared. */
export interface ChangeSummary {
  readonly compared: number
  /** Shares whose change stands out of its own uncertainty. */
  readonly hotter: number
  readonly cooler: number
  /** Cells of the surest rise and fall; null where none stands out. */
  readonly most: number | null
  readonly least: number | null
}

/** Whether a change stands out of its uncertainty (95 %). */
export const isChange = (changeK: number, standardUncertaintyK: number): boolean =>
  Math.abs(changeK) > NORMAL_95 * standardUncertaintyK

export function changeSummary(
  changeK: Float32Array,
  standardUncertaintyK: Float32Array,
): ChangeSummary {
  let [compared, hotter, cooler] = [0, 0, 0]
  let [most, least]: [number | null, number | null] = [null, null]
  // Shrunk by its own uncertainty, so that noise makes no extreme.
  const sure = (at: number, sign: 1 | -1) => sign * changeK[at]! - standardUncertaintyK[at]!
  for (let at = 0; at < changeK.length; at++) {
    if (Number.isNaN(changeK[at]!)) continue
    compared++
    if (!isChange(changeK[at]!, standardUncertaintyK[at]!)) continue
    if (changeK[at]! > 0) {
      hotter++
      if (most === null || sure(at, 1) > sure(most, 1)) most = at
    } else {
      cooler++
      if (least === null || sure(at, -1) > sure(least, -1)) least = at
    }
  }
  const share = (count: number) => (compared === 0 ? 0 : count / compared)
  return { compared, hotter: share(hotter), cooler: share(cooler), most, least }
}

/**
 * By how many pixels the later picture is displaced: outlines laid on each other as the frames of a
 * sweep are. Where an outline leaves the picture the smallest displacement along it is taken.
 */
function alignment(earlier: HeatMap, later: HeatMap) {
  const step = Math.max(earlier.side, later.side)
  const ends = [earlier, later].map((map) => ({
    left: map.left,
    top: map.top,
    right: map.left + map.columns * map.side,
    bottom: map.top + map.rows * map.side,
  }))
  const around = LARGEST_SHIFT * step
  const left = Math.min(...ends.map((end) => end.left)) - around
  const top = Math.min(...ends.map((end) => end.top)) - around
  const width = Math.ceil((Math.max(...ends.map((end) => end.right)) + around - left) / step)
  const height = Math.ceil((Math.max(...ends.map((end) => end.bottom)) + around - top) / step)
  const [a, b] = [earlier, later].map((map) => outlinePicture(map, left, top, step, width, height))
  const whole = { shape: 'rectangle' as const, x: 0, y: 0, width, height }
  const found = findShift(a!, b!, whole)
  if (!found) return { dx: 0, dy: 0, correlation: 0 }
  return { dx: found.dx * step, dy: found.dy * step, correlation: found.correlation }
}

/** 1 where it glows, 0 elsewhere; temperature has no part in it, because that is what changed. */
function outlinePicture(
  map: HeatMap,
  left: number,
  top: number,
  step: number,
  width: number,
  height: number,
): StoredImage {
  const codes = new Float32Array(3 * width * height)
  const notGlow = stateCode('not glow')
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at += 3) {
      const column = Math.floor((left + (x + 0.5) * step - map.left) / map.side)
      const row = Math.floor((top + (y + 0.5) * step - map.top) / map.side)
      if (column < 0 || row < 0 || column >= map.columns || row >= map.rows) continue
      if (map.state[row * map.columns + column] !== notGlow) codes[at] = 1
    }
  return { width, height, space: 'display-p3', codes }
}

interface Sample {
  readonly state: number
  readonly temperatureK: number
  readonly ownK: number
  readonly leaningK: number
  readonly levelLeaningK: number
  /** K a cell. */
  readonly slopeK: number
}

/** A map at a place between its cells; null outside. Between four that were read it is bilinear. */
function sampleAt(map: HeatMap, u: number, v: number): Sample | null {
  const { columns, rows, temperatureK } = map
  const [x, y] = [Math.round(u), Math.round(v)]
  if (x < 0 || y < 0 || x >= columns || y >= rows) return null
  const nearest = y * columns + x
  const [x0, y0] = [Math.floor(u), Math.floor(v)]
  const corners = [0, 1].flatMap((dy) =>
    [0, 1].flatMap((dx) => {
      const [cx, cy] = [x0 + dx, y0 + dy]
      if (cx < 0 || cy < 0 || cx >= columns || cy >= rows) return []
      const weight = (dx ? u - x0 : 1 - u + x0) * (dy ? v - y0 : 1 - v + y0)
      const at = cy * columns + cx
      return Number.isNaN(temperatureK[at]!) ? [] : [{ at, weight }]
    }),
  )
  const parts = corners.length === 4 ? corners : [{ at: nearest, weight: 1 }]
  const mean = (of: Float32Array) =>
    parts.reduce((sum, { at, weight }) => sum + weight * of[at]!, 0)
  const slope = (dx: number, dy: number) => {
    const value = (k: number) => {
      const [cx, cy] = [x + k * dx, y + k * dy]
      const inside = cx >= 0 && cy >= 0 && cx < columns && cy < rows
      return inside ? temperatureK[cy * columns + cx]! : Number.NaN
    }
    const [before, here, after] = [value(-SLOPE_REACH), value(0), value(SLOPE_REACH)]
    const slopes = [(here - before) / SLOPE_REACH, (after - here) / SLOPE_REACH]
    const known = slopes.filter((one) => !Number.isNaN(one))
    return known.length === 0 ? 0 : known.reduce((sum, one) => sum + one, 0) / known.length
  }
  return {
    state: map.state[nearest]!,
    temperatureK: mean(temperatureK),
    ownK: mean(map.ownK),
    leaningK: mean(map.leaningK),
    levelLeaningK: mean(map.levelLeaningK),
    slopeK: Math.hypot(slope(1, 0), slope(0, 1)),
  }
}
