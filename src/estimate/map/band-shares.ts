import { type BandPlace, bandPlace, type TargetBand } from '../live/live-line.ts'
import type { HeatMap } from './heat-map.ts'

/** How much of what was read lies below, inside and above a band. */
export interface BandShares extends Readonly<Record<BandPlace, number>> {
  /** Least and largest share inside while the whole map shifts within its 95 % interval. */
  readonly insideFrom: number
  readonly insideTo: number
}

/** Shifts of the whole map that are tried, each way. */
const SHIFTS = 8

/** @returns null where nothing was read */
export function bandShares(
  { temperatureK, scale }: Pick<HeatMap, 'temperatureK' | 'scale'>,
  band: TargetBand,
): BandShares | null {
  const read = temperatureK.filter(Number.isFinite)
  if (read.length === 0) return null
  const shares = (shiftK: number): Record<BandPlace, number> => {
    const found = { below: 0, inside: 0, above: 0 }
    for (const kelvin of read) found[bandPlace(kelvin + shiftK, band)] += 1 / read.length
    return found
  }
  const inside = Array.from(
    { length: 2 * SHIFTS + 1 },
    (_, i) => shares((i / SHIFTS - 1) * scale.common95K).inside,
  )
  return { ...shares(0), insideFrom: Math.min(...inside), insideTo: Math.max(...inside) }
}
