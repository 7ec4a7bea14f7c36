import { quantile, robustSd } from '../../numerics/statistics.ts'

/** Half sides of the windows, cells: spots of 3 to 30 cells fill one of them well. */
const HALVES = [1, 2, 4, 7, 11]
/** Share of a window that must have been read. */
const FILLED = 0.55
/** Two-sided 95 % of a normal: the shoulders of what the windows scatter by. */
const SHOULDER = [0.95, 1.96] as const
/** Wider shoulders are what is looked for: places that fill a good part of the map. */
const MOST_SHOULDER = 1.6
/** Fewer windows do not show their scatter. */
const LEAST_WINDOWS = 30

/**
 * How far the surroundings of each cell depart from nothing, in units of what such windows scatter by in
 * this very map: the largest over windows of several sizes, with its sign. Means over windows are nearly
 * normal, and their scatter is measured, so that noise of JPEG that runs over many cells counts as what
 * it is.
 *
 * @param residual NaN where there is none
 * @param noise standard deviation of each by its own noise; only its course matters
 * @param crowded what is looked for may fill a good part of the map, so that only the calmer half tells
 *   the scatter
 */
export function significance(
  residual: Float32Array,
  noise: Float32Array,
  columns: number,
  crowded: boolean,
): Float32Array {
  const rows = residual.length / columns
  const weighted = new Sums(columns, rows, (at) => residual[at]! / noise[at]! ** 2)
  const weights = new Sums(columns, rows, (at) =>
    Number.isNaN(residual[at]!) ? Number.NaN : 1 / noise[at]! ** 2,
  )
  const counts = new Sums(columns, rows, (at) => (Number.isNaN(residual[at]!) ? Number.NaN : 1))
  const most = new Float32Array(residual.length)
  for (const half of HALVES) {
    const scores = new Float32Array(residual.length).fill(Number.NaN)
    const known: number[] = []
    for (let at = 0; at < residual.length; at++) {
      if (Number.isNaN(residual[at]!)) continue
      if (counts.around(at, half) < FILLED * (2 * half + 1) ** 2) continue
      const score = weighted.around(at, half) / Math.sqrt(weights.around(at, half))
      scores[at] = score
      known.push(score)
    }
    if (known.length < LEAST_WINDOWS) continue
    const shoulder = quantile(known.map(Math.abs), SHOULDER[0]) / SHOULDER[1]
    const core = robustSd(known, 0)
    const scatter = crowded ? core : Math.max(core, Math.min(shoulder, MOST_SHOULDER * core))
    for (let at = 0; at < most.length; at++) {
      const score = scores[at]! / scatter
      if (Math.abs(score) > Math.abs(most[at]!)) most[at] = score
    }
  }
  return most
}

/** Sums over windows, by the sums from the upper left (Crow 1984). */
class Sums {
  private readonly table: Float64Array

  constructor(
    private readonly columns: number,
    private readonly rows: number,
    value: (at: number) => number,
  ) {
    const wide = columns + 1
    this.table = new Float64Array(wide * (rows + 1))
    for (let y = 0, at = 0; y < rows; y++) {
      let line = 0
      for (let x = 0; x < columns; x++, at++) {
        const own = value(at)
        if (!Number.isNaN(own)) line += own
        this.table[(y + 1) * wide + x + 1] = this.table[y * wide + x + 1]! + line
      }
    }
  }

  around(at: number, half: number): number {
    const { columns, rows, table } = this
    const x = at % columns
    const y = (at - x) / columns
    const [left, right] = [Math.max(x - half, 0), Math.min(x + half + 1, columns)]
    const [top, bottom] = [Math.max(y - half, 0), Math.min(y + half + 1, rows)]
    const wide = columns + 1
    return (
      table[bottom * wide + right]! -
      table[top * wide + right]! -
      table[bottom * wide + left]! +
      table[top * wide + left]!
    )
  }
}
