import { cellDifference, type HeatDifference, type HeatMap } from './heat-map.ts'
import type { Profile } from './profile.ts'

/** How one line over a map differs from another, place by place of the same share of their length. */
export interface ProfilePair {
  /** Second less first, mean along both. */
  readonly mean: HeatDifference
  /** Where they differ most, and at which share of the length. */
  readonly most: HeatDifference & { readonly share: number }
  /** Places that were read on both. */
  readonly places: number
}

/** Places at which two lines are compared. */
const PLACES = 101
/** Cells along a line whose noise is one: across the largest neighbourhood (see smooth-cells). */
const ALIKE_CELLS = 13

/** @returns null where fewer than two places are read on both */
export function compareProfiles(map: HeatMap, first: Profile, second: Profile): ProfilePair | null {
  const pairs: { readonly a: number; readonly b: number; readonly share: number }[] = []
  for (let i = 0; i < PLACES; i++) {
    const share = i / (PLACES - 1)
    const [a, b] = [cellAtShare(first, share), cellAtShare(second, share)]
    const read = (at: number) => at >= 0 && !Number.isNaN(map.temperatureK[at]!)
    if (read(a) && read(b)) pairs.push({ a, b, share })
  }
  if (pairs.length < 2) return null
  const mean = (of: Float32Array, end: 'a' | 'b') =>
    pairs.reduce((sum, pair) => sum + of[pair[end]]!, 0) / pairs.length
  const independent = (line: Profile) =>
    Math.max((line.cells.length * pairs.length) / PLACES / ALIKE_CELLS, 1)
  const noise = (line: Profile, end: 'a' | 'b') =>
    mean(map.ownK, end) / Math.sqrt(independent(line))
  const apart = (of: Float32Array) => mean(of, 'b') - mean(of, 'a')
  const most = pairs
    .map(({ a, b, share }) => ({ ...cellDifference(map, a, b), share }))
    .reduce((x, y) => (Math.abs(y.differenceK) > Math.abs(x.differenceK) ? y : x))
  return {
    mean: {
      differenceK: apart(map.temperatureK),
      standardUncertaintyK: Math.hypot(
        noise(first, 'a'),
        noise(second, 'b'),
        apart(map.leaningK),
        apart(map.levelLeaningK),
      ),
    },
    most,
    places: pairs.length,
  }
}

const cellAtShare = ({ cells }: Profile, share: number): number =>
  cells[Math.round(share * (cells.length - 1))]!
