import type { CellGrid } from '../../estimate/map/profile.ts'

/** The cell so many columns and rows from another, no further than the map's edge. */
export function movedCell(grid: CellGrid, from: number, columns: number, rows: number): number {
  const within = (value: number, count: number) => Math.min(Math.max(value, 0), count - 1)
  const column = within((from % grid.columns) + columns, grid.columns)
  return within(Math.floor(from / grid.columns) + rows, grid.rows) * grid.columns + column
}
