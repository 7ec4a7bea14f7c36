import type { HeatMap } from '../../estimate/map/heat-map.ts'
import { cellCentre, type Point } from '../../estimate/map/profile.ts'

/** A line over a map: its corners in order, and the one that is moved. */
export interface MapLine {
  readonly points: readonly Point[]
  readonly corner: number
}

const LEAST_CORNERS = 2
export const MOST_CORNERS = 12

const between = (a: Point, b: Point) => Math.hypot(b.x - a.x, b.y - a.y)

/** Length along all corners, pixels. */
export const lineLength = ({ points }: MapLine): number =>
  points.reduce((sum, point, i) => sum + (i === 0 ? 0 : between(points[i - 1]!, point)), 0)

/** The corner nearest to a place goes there, and is the one that is moved from then on. */
export function withNearestAt(line: MapLine, to: Point): MapLine {
  const far = line.points.map((point) => between(point, to))
  const corner = far.indexOf(Math.min(...far))
  return withCornerAt({ ...line, corner }, to)
}

export const withCornerAt = ({ points, corner }: MapLine, to: Point): MapLine => ({
  points: points.map((point, i) => (i === corner ? to : point)),
  corner,
})

/** A corner in the middle of the longest leg. */
export function withCorner({ points }: MapLine): MapLine {
  const legs = points.slice(1).map((point, i) => between(points[i]!, point))
  const after = legs.indexOf(Math.max(...legs))
  const [a, b] = [points[after]!, points[after + 1]!]
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }
  return {
    points: [...points.slice(0, after + 1), middle, ...points.slice(after + 1)],
    corner: after + 1,
  }
}

export function withoutCorner({ points, corner }: MapLine): MapLine {
  if (points.length <= LEAST_CORNERS) return { points, corner }
  return { points: points.filter((_, i) => i !== corner), corner: Math.max(corner - 1, 0) }
}

export const nextCorner = ({ points, corner }: MapLine): MapLine => ({
  points,
  corner: (corner + 1) % points.length,
})

/** The same line beside the first one, by a share of the map's shorter side. */
export function lineBeside({ points }: MapLine, { columns, rows, side }: HeatMap): MapLine {
  const [a, b] = [points[0]!, points.at(-1)!]
  const length = Math.max(between(a, b), 1)
  const far = BESIDE * Math.min(columns, rows) * side
  const [dx, dy] = [(-(b.y - a.y) / length) * far, ((b.x - a.x) / length) * far]
  return { points: points.map(({ x, y }) => ({ x: x + dx, y: y + dy })), corner: 0 }
}
const BESIDE = 0.12

/** From one end of what was read to the other, along its longer axis. */
export function mainLine(map: HeatMap): MapLine {
  const points: Point[] = []
  for (let at = 0; at < map.temperatureK.length; at++)
    if (Number.isFinite(map.temperatureK[at]!)) points.push(cellCentre(map, at))
  const mean = (of: (p: Point) => number) => points.reduce((s, p) => s + of(p), 0) / points.length
  const [mx, my] = [mean(({ x }) => x), mean(({ y }) => y)]
  const xx = mean(({ x }) => (x - mx) ** 2)
  const yy = mean(({ y }) => (y - my) ** 2)
  const xy = mean(({ x, y }) => (x - mx) * (y - my))
  const angle = Math.atan2(2 * xy, xx - yy) / 2
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const along = points.map(({ x, y }) => (x - mx) * c + (y - my) * s)
  const ends = [along.reduce((a, b) => Math.min(a, b)), along.reduce((a, b) => Math.max(a, b))]
  return { points: ends.map((end) => ({ x: mx + end * c, y: my + end * s })), corner: 0 }
}
