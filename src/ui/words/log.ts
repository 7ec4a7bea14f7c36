import type { Filter, Summary } from '../../log/schema/types.ts'
import { materialById } from '../../physics/materials.ts'
import { MEASURED_WINDOW, windowById } from '../../physics/windows.ts'
import { showDifference, showTemperature } from '../temperature.ts'
import { METHOD_NAMES } from './methods.ts'

/** Words of the log's list: counts, surfaces, chips. */

/** 100,000 */
export const showCount = (count: number): string => count.toLocaleString('en-GB')

export const readingsWord = (count: number): string =>
  count === 1 ? '1 reading' : `${showCount(count)} readings`

/** What a reading is when it was not measured; null for a measured one. */
export function originWord({
  demo,
  simulated,
}: Pick<Summary, 'demo' | 'simulated'>): string | null {
  if (demo) return 'Made up'
  return simulated ? 'Simulated' : null
}

/** Surfaces and covers of a newer version keep their id. */
/** A surface, or that it is not known; an id of another version stands for itself. */
export const surfaceName = (id: string): string =>
  id === 'not-known' ? 'Surface not known' : (materialById(id)?.name ?? id)
export const coverName = (id: string): string =>
  id === 'none'
    ? 'Nothing'
    : (windowById(id)?.name ?? (id === MEASURED_WINDOW ? 'Measured glass' : id))

export const ORIGIN_NAMES = {
  all: 'All',
  measured: 'Measured only',
  simulated: 'Simulated only',
  'made up': 'Made-up workshop only',
  damaged: 'Damaged only',
} as const

/** "2026-03-01 to 2026-03-14", "from …", "until …". */
export function rangeWords(from: string | null, to: string | null): string {
  if (from !== null && to !== null) return from === to ? from : `${from} to ${to}`
  return from !== null ? `from ${from}` : `until ${to ?? ''}`
}

/** What a chip says of one part of a filter. */
export function filterWords(
  kind: 'days' | 'object' | 'tag' | 'material' | 'series' | 'methods' | 'range' | 'origin',
  filter: Filter,
  dayOf: (ms: number) => string,
): string {
  const or = <T>(value: T | undefined, show: (value: T) => string) =>
    value === undefined ? null : show(value)
  switch (kind) {
    case 'days':
      return rangeWords(or(filter.fromMs, dayOf), or(filter.toMs, dayOf))
    case 'range':
      return rangeWords(or(filter.fromK, showTemperature), or(filter.toK, showTemperature))
    case 'methods':
      return (filter.methods ?? []).map((method) => METHOD_NAMES[method]).join(', ')
    case 'object':
      return filter.object ?? ''
    case 'tag':
      return `tag ${filter.tag ?? ''}`
    case 'series':
      return `series ${filter.series ?? ''}`
    case 'material':
      return surfaceName(filter.material ?? '')
    case 'origin':
      if (filter.damaged) return 'damaged'
      if (filter.demo) return 'made up'
      return filter.simulated ? 'simulated' : 'measured'
  }
}

export const recordingsWord = (count: number): string =>
  count === 1 ? '1 recording' : `${count} recordings`

/** What stands in a log without readings. */
export const emptyLog = (
  recordings: number,
): { readonly title: string; readonly line: string } => ({
  title: recordings === 0 ? 'Nothing here yet' : `${recordingsWord(recordings)}, no reading yet`,
  line: 'A saved reading stays on this device, dated, with all that is needed to compute it again.',
})
export const NOTHING_FITS = 'Nothing fits.'

/** Readings that a mean leaves out, in one sentence; empty when it counts all. */
export function leftOutSentence(leftOut: {
  readonly bounds: number
  readonly withoutFigure: number
  readonly madeUp: number
  readonly damaged: number
}): string {
  const parts = [
    leftOut.bounds > 0 && `${leftOut.bounds} below range`,
    leftOut.withoutFigure > 0 && `${leftOut.withoutFigure} without a figure`,
    leftOut.madeUp > 0 && `${leftOut.madeUp} simulated or made up`,
    leftOut.damaged > 0 && `${leftOut.damaged} damaged or gone`,
  ].filter((part) => part !== false)
  return parts.length > 0 ? `Left out: ${parts.join(', ')}.` : ''
}

/** Do readings of a selection agree with each other? */
export function scatterSentence({
  count,
  betweenK,
}: {
  readonly count: number
  readonly betweenK: number
}): string {
  if (count < 2) return 'One reading: nothing to compare it with.'
  return betweenK > 0
    ? `They scatter more than their own ± allows, by ${showDifference(betweenK)} (1 σ): they were not all at one temperature.`
    : 'They agree within their own ±.'
}

/** 12 MB, in decimal units as phones show them. */
export function showBytes(bytes: number): string {
  if (bytes < 1e6) return `${Math.max(1, Math.round(bytes / 1e3))} kB`
  if (bytes < 1e9) return `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`
  return `${(bytes / 1e9).toFixed(1)} GB`
}
