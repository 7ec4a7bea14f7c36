import type { Summary } from '../schema/types.ts'

/** What one object's readings are drawn against. */
export type SeriesAxis = 'time' | 'volts' | 'watts'

export interface SeriesPoint {
  readonly id: string
  /** Milliseconds since 1970, V or W. */
  readonly x: number
  readonly kind: 'temperature' | 'upper bound'
  readonly temperatureK: number
  /** 95 % interval; an upper bound reaches down without end (null). */
  readonly lowerK: number | null
  readonly upperK: number
  readonly simulated: boolean
}

/** Points of a series in order of the axis; readings that have no place on it are left out. */
export function seriesPoints(summaries: readonly Summary[], axis: SeriesAxis): SeriesPoint[] {
  const points: SeriesPoint[] = []
  for (const s of summaries) {
    const x = axis === 'time' ? s.takenAtMs : s[axis]
    if (x === null || s.temperatureK === null || s.damaged || s.kind === 'none') continue
    points.push({
      id: s.id,
      x,
      kind: s.kind,
      temperatureK: s.temperatureK,
      lowerK: s.kind === 'temperature' ? (s.interval95K?.[0] ?? s.temperatureK) : null,
      upperK: s.interval95K?.[1] ?? s.temperatureK,
      simulated: s.simulated,
    })
  }
  return points.sort((a, b) => a.x - b.x)
}
