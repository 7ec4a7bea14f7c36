/** Temperature along a line over a map. */
import { cellDifference, type HeatMap } from './heat-map.ts'

export interface Point {
  /** Pixels of the picture. */
  readonly x: number
  readonly y: number
}

/** Where a map's cells lie. */
export type CellGrid = Pick<HeatMap, 'columns' | 'rows' | 'side' | 'left' | 'top'>

/** Arrays of one length; NaN where the line leaves what was read. */
export interface Profile {
  /** From the start, pixels. */
  readonly along: readonly number[]
  readonly temperatureK: readonly number[]
  /** Standard uncertainty by noise: between places of the line. What shifts all of it is not in here. */
  readonly ownK: readonly number[]
  /** Cells that were passed; -1 outside of the map. */
  readonly cells: readonly number[]
}

/** @param path at least two points; steps are one cell */
export function profileAlong(map: HeatMap, path: readonly Point[]): Profile {
  const { side, temperatureK, ownK } = map
  const along: number[] = []
  const cells: number[] = []
  let before = 0
  for (let leg = 1; leg < path.length; leg++) {
    const [a, b] = [path[leg - 1]!, path[leg]!]
    const length = Math.hypot(b.x - a.x, b.y - a.y)
    const steps = Math.max(1, Math.round(length / side))
    for (let i = leg === 1 ? 0 : 1; i <= steps; i++) {
      const share = i / steps
      along.push(before + share * length)
      cells.push(cellAt(map, a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)))
    }
    before += length
  }
  const value = (of: Float32Array) => cells.map((at) => (at < 0 ? Number.NaN : of[at]!))
  return { along, cells, temperatureK: value(temperatureK), ownK: value(ownK) }
}

/** Index of the cell at a place of the picture; -1 outside of the map. */
export function cellAt({ columns, rows, side, left, top }: CellGrid, x: number, y: number): number {
  const column = Math.floor((x - left) / side)
  const row = Math.floor((y - top) / side)
  return column < 0 || row < 0 || column >= columns || row >= rows ? -1 : row * columns + column
}

/** Middle of a cell, pixels of the picture. */
export function cellCentre({ columns, side, left, top }: CellGrid, at: number): Point {
  return {
    x: left + ((at % columns) + 0.5) * side,
    y: top + (Math.floor(at / columns) + 0.5) * side,
  }
}

/** Share of a line's length over which a soak is judged: its ends lose heat to what holds them. */
const SOAKED = 0.8

/** The largest difference along the middle 80 % of a line; null where less than two places are read. */
export function soak(map: HeatMap, profile: Profile) {
  const { along, cells, temperatureK } = profile
  const length = along.at(-1) ?? 0
  const margin = ((1 - SOAKED) / 2) * length
  const read = cells.filter(
    (_, i) =>
      Number.isFinite(temperatureK[i]!) && along[i]! >= margin && along[i]! <= length - margin,
  )
  if (read.length < 2) return null
  const kelvin = (at: number) => map.temperatureK[at]!
  const hottest = read.reduce((a, b) => (kelvin(b) > kelvin(a) ? b : a))
  const coolest = read.reduce((a, b) => (kelvin(b) < kelvin(a) ? b : a))
  return { ...cellDifference(map, coolest, hottest), hottest, coolest }
}
