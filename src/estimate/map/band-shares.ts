import { type BandPlace, bandPlace, type TargetBand } from '../live/live-line.ts'
import type { HeatMap } from './heat-map.ts'

/** How much of what was read lies below, inside and above a band. */
export interface BandShares extends Readonly<Record<BandPlace, number>> {
  /** Least and largest share inside while the whole map shifts within its 95 % interval. */
  readonly insideFrom: number
  readonly insideTo: number
}

/** @returns null where nothing was read */
export function bandShares(
  { temperatureK, scale }: Pick<HeatMap, 'temperatureK' | 'scale'>,
  band: TargetBand,
): BandShares | null {
  const read = temperatureK.filter(Number.isFinite)
  if (read.length === 0) return null
  const found = { below: 0, inside: 0, above: 0 }
  for (const kelvin of read) found[bandPlace(kelvin, band)]++
  const [least, most] = insideWhileShifted(read, band, scale.common95K)
  const share = (cells: number) => cells / read.length
  return {
    below: share(found.below),
    inside: share(found.inside),
    above: share(found.above),
    insideFrom: share(least),
    insideTo: share(most),
  }
}

/** Least and most cells in a band while all shift by up to so much, K: each enters it and leaves it once. */
function insideWhileShifted(
  read: Float32Array,
  { fromK, toK }: TargetBand,
  mostK: number,
): readonly [number, number] {
  const enter = Float64Array.from(read, (kelvin) => fromK - kelvin).sort()
  const leave = Float64Array.from(read, (kelvin) => toK - kelvin).sort()
  let [entered, left] = [0, 0]
  while (enter[entered]! <= -mostK) entered++
  while (leave[left]! < -mostK) left++
  let [least, most] = [entered - left, entered - left]
  for (;;) {
    const next = Math.min(enter[entered] ?? Infinity, leave[left] ?? Infinity)
    if (!(next < mostK)) {
      // What enters at the very end counts; what leaves there is still in.
      while (enter[entered]! <= mostK) entered++
      return [least, Math.max(most, entered - left)]
    }
    if (enter[entered] === next) entered++
    else left++
    least = Math.min(least, entered - left)
    most = Math.max(most, entered - left)
  }
}
