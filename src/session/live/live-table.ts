import type { LiveColours, OverSight } from './live-scale.ts'

/** A live map's curves as rows that each cell of each frame can be looked up in. */
export interface LiveTable {
  /** @param lnRatio of a cell, @param red its mean linear red */
  kelvin(lnRatio: number, red: number): number
}

const ROWS = 256
/** Beyond the picture's own range, for cells of the frames that follow. */
const MORE = 0.25

/** @param temperatureK of the sight */
export function liveTable(
  over: OverSight,
  { lnRatio, lnRed, ratios, levels }: LiveColours,
  temperatureK: number,
): LiveTable {
  const ratioRows = rowsOf(ratios[0]!, ratios.at(-1)!, (v) => over.overK(v - lnRatio))
  if (!over.byLevel) return { kelvin: (ratio) => temperatureK + ratioRows(ratio) }
  const levelRows = rowsOf(levels[0], levels[1], (v) => over.levelOverK(v - lnRed))
  return {
    kelvin: (ratio, red) => temperatureK + ratioRows(ratio) + levelRows(Math.log(red)),
  }
}

function rowsOf(from: number, to: number, of: (x: number) => number): (x: number) => number {
  const [low, high] = [from - MORE, to + MORE]
  const step = (high - low) / (ROWS - 1)
  const rows = Float64Array.from({ length: ROWS }, (_, i) => of(low + i * step))
  return (x) => {
    const place = Math.min(Math.max((x - low) / step, 0), ROWS - 1.001)
    const i = place | 0
    return rows[i]! + (place - i) * (rows[i + 1]! - rows[i]!)
  }
}
