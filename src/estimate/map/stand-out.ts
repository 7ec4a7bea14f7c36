import { connectedParts } from '../../light/grid.ts'
import { median } from '../../numerics/statistics.ts'
import { significance } from './significance.ts'
import { trend } from './trend.ts'

/** A part of a grid whose values stand out of those around it. */
export interface StandingOut {
  readonly cells: readonly number[]
  /** The cell that stands out most. */
  readonly peak: number
  /** The cells around the part. */
  readonly around: readonly number[]
  /** Of the peak over the cells around the part; negative for a dip. */
  readonly rise: number
  readonly standardUncertainty: number
  /** Diameter of the circle of the same area, cells. */
  readonly across: number
}

/** Cells of the part are those above this share of the peak's rise: its width at half height. */
const HALF = 0.5
/** A single cell or two is what JPEG or a hot pixel makes. */
const LEAST_PART = 4
const acrossOf = (cells: number) => 2 * Math.sqrt(cells / Math.PI)
/** Diameter of the smallest part, cells. */
export const LEAST_ACROSS = acrossOf(LEAST_PART)
/** Cells around a part that make its surroundings. */
const AROUND = 3

/** A field of values over a grid, NaN where there is none. */
export interface Field {
  readonly columns: number
  /** Smoothed, and its standard uncertainty against other places. */
  readonly values: Float32Array
  readonly uncertainty: Float32Array
  /** As measured, and the noise of each. */
  readonly raw: Float32Array
  readonly noise: Float32Array
  /** Whether much of it may stand out (see significance). */
  readonly crowded: boolean
}

/**
 * Whether something stands out is judged on what was measured; how far and how wide, on the smoothed
 * values.
 *
 * @param least smaller rises are not worth a word
 * @param score by which a place must stand out (see significance)
 * @returns largest first
 */
export function standingOut(field: Field, least: number, score: number): StandingOut[] {
  const { columns, values, uncertainty, raw, noise, crowded } = field
  const rows = values.length / columns
  const slow = trend(values, columns)
  const residual = values.map((value, i) => value - slow[i]!)
  const found: StandingOut[] = []
  const scores = significance(
    raw.map((value, i) => value - slow[i]!),
    noise,
    columns,
    crowded,
  )
  for (const sign of [1, -1]) {
    const sure = (at: number) => sign * scores[at]! > score && sign * residual[at]! > 0
    const taken = new Uint8Array(values.length)
    for (const seed of connectedParts(columns, rows, sure, () => true)) {
      if (seed.some((at) => taken[at])) continue
      const peak = seed.reduce((a, b) => (sign * residual[b]! > sign * residual[a]! ? b : a))
      const height = sign * residual[peak]!
      const part = partAbout(peak, (at) => sign * residual[at]! > HALF * height, columns, rows)
      for (const at of part) taken[at] = 1
      const around = surroundings(part, columns, rows).filter((at) => Number.isFinite(values[at]!))
      if (around.length === 0 || part.length < LEAST_PART) continue
      const rise = residual[peak]! - median(around.map((at) => residual[at]!))
      found.push({
        cells: part,
        peak,
        around,
        rise,
        standardUncertainty: Math.SQRT2 * uncertainty[peak]!,
        across: acrossOf(part.length),
      })
    }
  }
  return found
    .filter(({ rise }) => Math.abs(rise) > least)
    .sort((a, b) => Math.abs(b.rise) - Math.abs(a.rise))
}

const partAbout = (
  peak: number,
  isIn: (at: number) => boolean,
  columns: number,
  rows: number,
): number[] =>
  connectedParts(columns, rows, isIn, () => true).find((part) => part.includes(peak)) ?? [peak]

function surroundings(part: readonly number[], columns: number, rows: number): number[] {
  const own = new Set(part)
  const found = new Set<number>()
  for (const at of part) {
    const x = at % columns
    const y = (at - x) / columns
    for (let dy = -AROUND; dy <= AROUND; dy++)
      for (let dx = -AROUND; dx <= AROUND; dx++) {
        const [u, v] = [x + dx, y + dy]
        if (u < 0 || v < 0 || u >= columns || v >= rows) continue
        const other = v * columns + u
        if (!own.has(other)) found.add(other)
      }
  }
  return [...found]
}
