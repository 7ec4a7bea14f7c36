import { contours } from 'd3-contour'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import type { CellGrid, Point } from '../../estimate/map/profile.ts'

/** A line of one temperature, in pixels of the picture. */
export interface Isotherm {
  readonly temperatureK: number
  /** SVG path; pieces that would only run along the border of what was read are left out. */
  readonly path: string
  /** Where a label stands, on the longest piece; null where all are short. */
  readonly label: { readonly x: number; readonly y: number } | null
}

/**
 * Middles of cells lie at half steps. Along a border d3 draws through the middles of the last cells: so a
 * little more than half a step must be read on each side.
 */
const BESIDE = 0.75
/** Shares of the longest piece at which its label may stand, the first for choice. */
const LABELLED = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9]
/** Pieces of fewer points get no label. */
const LEAST_LABELLED = 12
/** Of some thousand cells a few lie four standard uncertainties off. */
const LEAST_FAR = 4
/** A label with some space, shares of the map's longer side. */
const LABEL = { width: 0.1, height: 0.05 }

/** Temperatures of cells, NaN where there is none. */
export type CellTemperatures = CellGrid & Pick<HeatMap, 'temperatureK'>

/** Of the pairs of neighbours a level may part so many: beyond that its rings are a wall of lines. */
const MOST_PARTED = 0.15

/**
 * Rings around what is as hot as each level; none where they would be a wall. d3 takes what is not a number
 * for lower than everything.
 */
function ringsOf({ columns, rows, temperatureK }: CellTemperatures, levelsK: readonly number[]) {
  const values = [...temperatureK]
  const make = contours().size([columns, rows])
  return levelsK.map((level) => {
    const above = values.map((value) => value >= level)
    let parted = 0
    for (let at = 0; at < above.length; at++) {
      if (at + 1 < above.length && above[at] !== above[at + 1]) parted++
      if (at + columns < above.length && above[at] !== above[at + columns]) parted++
    }
    const wall = parted > 2 * MOST_PARTED * above.length + columns + rows
    return wall ? { value: level, coordinates: [] } : make.contour(values, level)
  })
}

/**
 * What lies between two temperatures as an SVG path, to be filled where an odd number of its rings lie:
 * what is as hot as the lower one without what is as hot as the upper one.
 */
export function bandPath(cells: CellTemperatures, lowK: number, highK: number): string {
  const { side, left, top } = cells
  return ringsOf(cells, [lowK, highK])
    .flatMap(({ coordinates }) => coordinates.flat())
    .map((ring) => {
      const points = ring.map(([x, y]) =>
        [left + x! * side, top + y! * side].map((v) => v.toFixed(1)).join(' '),
      )
      return `M${points.join('L')}Z`
    })
    .join('')
}

/**
 * By marching squares with linear interpolation (d3-contour).
 *
 * @param options `marked`: places of the picture that no label may hide. `leastK`: rings within which hardly a
 *   cell lies so far from their level are noise of an even place
 */
export function isotherms(
  cells: CellTemperatures,
  levelsK: readonly number[],
  { marked = [], leastK = 0 }: { marked?: readonly Point[]; leastK?: number } = {},
): Isotherm[] {
  const { columns, rows, side, left, top, temperatureK } = cells
  const labels: Place[] = marked.map(({ x, y }) => [(x - left) / side, (y - top) / side])
  return ringsOf(cells, levelsK).map(({ value, coordinates }) => {
    const rings = coordinates.flat().filter((ring) => departs(ring, value))
    const pieces = rings.flatMap((ring) => insidePieces(ring))
    const place = ([x, y]: Place) => [left + x * side, top + y * side] as const
    const longest = pieces.reduce<Place[]>((a, b) => (b.length > a.length ? b : a), [])
    const at = labelPlace(longest)
    if (at) labels.push(at)
    const label = at && { x: place(at)[0], y: place(at)[1] }
    return {
      temperatureK: value,
      path: pieces
        .map(
          (piece) =>
            `M${piece
              .map((p) =>
                place(p)
                  .map((v) => v.toFixed(1))
                  .join(' '),
              )
              .join('L')}`,
        )
        .join(''),
      label,
    }
  })

  /** Where the label of a piece hides none of the others. */
  function labelPlace(piece: readonly Place[]): Place | null {
    if (piece.length < LEAST_LABELLED) return null
    const longer = Math.max(columns, rows)
    const free = ([x, y]: Place) =>
      labels.every(
        ([u, v]) =>
          Math.abs(x - u) > LABEL.width * longer || Math.abs(y - v) > LABEL.height * longer,
      )
    const places = LABELLED.map((share) => piece[Math.floor(share * piece.length)]!)
    return places.find(free) ?? null
  }

  /** Looked for in the ring's box, which is tight where it matters: around small rings. */
  function departs(ring: readonly (readonly number[])[], levelK: number): boolean {
    if (leastK === 0) return true
    let far = 0
    const [x, y] = [0, 1].map((axis) => ring.map((point) => point[axis]!))
    const [toX, toY] = [Math.max(...x!), Math.max(...y!)]
    for (let v = Math.floor(Math.min(...y!)); v < toY; v++)
      for (let u = Math.floor(Math.min(...x!)); u < toX; u++)
        if (Math.abs(temperatureK[v * columns + u]! - levelK) > leastK && ++far >= LEAST_FAR)
          return true
    return false
  }

  /** Whether all cells around a point of a contour were read. */
  function inside([x, y]: Place): boolean {
    for (const u of [Math.floor(x - BESIDE), Math.ceil(x - 1 + BESIDE)])
      for (const v of [Math.floor(y - BESIDE), Math.ceil(y - 1 + BESIDE)]) {
        if (u < 0 || v < 0 || u >= columns || v >= rows) return false
        if (Number.isNaN(temperatureK[v * columns + u]!)) return false
      }
    return true
  }

  function insidePieces(ring: readonly (readonly number[])[]): Place[][] {
    const pieces: Place[][] = []
    let piece: Place[] = []
    for (const point of ring as readonly Place[]) {
      if (inside(point)) piece.push(point)
      else {
        if (piece.length > 1) pieces.push(piece)
        piece = []
      }
    }
    if (piece.length > 1) pieces.push(piece)
    return pieces
  }
}

type Place = readonly [x: number, y: number]

const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500]
const MOST_LEVELS = 7

/**
 * Round temperatures between two, in a person's unit.
 *
 * @param toUnit K to the unit, @param fromUnit its inverse
 * @param spacing so many steps at most, none smaller than the least
 */
export function roundLevels(
  lowK: number,
  highK: number,
  toUnit: (kelvin: number) => number,
  fromUnit: (value: number) => number,
  { most = MOST_LEVELS, leastStepK = 0 }: { most?: number; leastStepK?: number | null } = {},
): number[] {
  const [low, high] = [toUnit(lowK), toUnit(highK)]
  const least = Math.max((high - low) / most, toUnit(lowK + (leastStepK ?? 0)) - low)
  const step = STEPS.find((one) => one >= least) ?? 1000
  const levels: number[] = []
  for (let value = Math.ceil(low / step) * step; value <= high; value += step)
    levels.push(fromUnit(value))
  return levels
}
