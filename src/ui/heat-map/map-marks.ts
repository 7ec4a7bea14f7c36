import type { Evenness } from '../../estimate/map/evenness.ts'
import { type CellGrid, cellCentre, type Point } from '../../estimate/map/profile.ts'
import type { StandingOut } from '../../estimate/map/stand-out.ts'

/** A ring around what stands out; broken where it is a matter of the surface. */
export interface Ring {
  readonly at: Point
  /** Pixels of the picture. */
  readonly radius: number
  readonly broken: boolean
}

/** What is marked on a map, beside its lines. */
export interface MapMarks {
  /** Places of the picture; null: none. */
  readonly hottest: Point | null
  readonly coolest: Point | null
  readonly rings: readonly Ring[]
}

export function mapMarks(
  grid: CellGrid,
  hottest: number | null,
  coolest: number | null,
  { spots, surface }: Pick<Evenness, 'spots' | 'surface'> = { spots: [], surface: [] },
): MapMarks {
  const centre = (at: number | null) => (at === null ? null : cellCentre(grid, at))
  return {
    hottest: centre(hottest),
    coolest: centre(coolest),
    rings: [
      ...spots.map((spot) => ringAround(grid, spot, false)),
      ...surface.map((part) => ringAround(grid, part, true)),
    ],
  }
}

/** Rings stand this far off what they are around, as a factor. */
const AROUND = 1.3

function ringAround(grid: CellGrid, { cells, peak, across }: StandingOut, broken: boolean): Ring {
  const places = (cells.length > 0 ? cells : [peak]).map((at) => cellCentre(grid, at))
  const mean = (of: (place: Point) => number) =>
    places.reduce((sum, place) => sum + of(place), 0) / places.length
  return {
    at: { x: mean(({ x }) => x), y: mean(({ y }) => y) },
    radius: (AROUND / 2) * across * grid.side,
    broken,
  }
}

/** SVG path of a triangle that points up at the hottest and down at the coolest place. */
export function trianglePath({ x, y }: Point, radius: number, up: boolean): string {
  const tip = up ? -radius : radius
  return `M${x} ${y + tip}L${x + radius} ${y - tip * 0.7}L${x - radius} ${y - tip * 0.7}Z`
}
