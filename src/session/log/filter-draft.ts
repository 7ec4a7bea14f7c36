import type { Filter, Method } from '../../log/schema/types.ts'
import {
  type TemperatureUnit,
  temperatureFromUnit,
  temperatureInUnit,
} from '../../physics/units.ts'
import { numberText, typedNumber } from '../typed-number.ts'

/** Which readings by where they come from. */
export const ORIGINS = ['all', 'measured', 'simulated', 'made up', 'damaged'] as const
export type OriginFilter = (typeof ORIGINS)[number]

/** A filter as it is set in the dialog. */
export interface FilterDraft {
  /** "2026-03-14", or empty. */
  readonly fromDay: string
  readonly toDay: string
  readonly object: string
  readonly tag: string
  readonly material: string
  readonly series: string
  readonly methods: readonly Method[]
  readonly fromTemperature: string
  readonly toTemperature: string
  readonly origin: OriginFilter
}

export const EMPTY_DRAFT: FilterDraft = {
  fromDay: '',
  toDay: '',
  object: '',
  tag: '',
  material: '',
  series: '',
  methods: [],
  fromTemperature: '',
  toTemperature: '',
  origin: 'all',
}

/** The filter of a draft with the words that are searched; what is no number does not narrow. */
export function filterOfDraft(draft: FilterDraft, text: string, unit: TemperatureUnit): Filter {
  const fromMs = draft.fromDay ? dayBegins(draft.fromDay) : null
  const toMs = draft.toDay ? dayEnds(draft.toDay) : null
  const fromK = kelvin(draft.fromTemperature, unit)
  const toK = kelvin(draft.toTemperature, unit)
  return {
    ...(text.trim() ? { text } : {}),
    ...(draft.object ? { object: draft.object } : {}),
    ...(draft.tag ? { tag: draft.tag } : {}),
    ...(draft.material ? { material: draft.material } : {}),
    ...(draft.series ? { series: draft.series } : {}),
    ...(draft.methods.length > 0 ? { methods: draft.methods } : {}),
    ...(fromMs === null ? {} : { fromMs }),
    ...(toMs === null ? {} : { toMs }),
    ...(fromK === null ? {} : { fromK }),
    ...(toK === null ? {} : { toK }),
    ...OF_ORIGIN[draft.origin],
  }
}

/** The inverse of {@link filterOfDraft}, words apart. */
export function draftOfFilter(filter: Filter, unit: TemperatureUnit): FilterDraft {
  const { fromMs, toMs, fromK, toK } = filter
  return {
    fromDay: fromMs === undefined ? '' : dayOf(fromMs),
    toDay: toMs === undefined ? '' : dayOf(toMs),
    object: filter.object ?? '',
    tag: filter.tag ?? '',
    material: filter.material ?? '',
    series: filter.series ?? '',
    methods: filter.methods ?? [],
    fromTemperature: fromK === undefined ? '' : numberText(temperatureInUnit(fromK, unit), 1),
    toTemperature: toK === undefined ? '' : numberText(temperatureInUnit(toK, unit), 1),
    origin: originOf(filter),
  }
}

const OF_ORIGIN: Record<OriginFilter, Pick<Filter, 'simulated' | 'demo' | 'damaged'>> = {
  all: {},
  measured: { simulated: false, demo: false },
  simulated: { simulated: true, demo: false },
  'made up': { demo: true },
  damaged: { damaged: true },
}

export function originOf({ simulated, demo, damaged }: Filter): OriginFilter {
  if (damaged) return 'damaged'
  if (demo) return 'made up'
  if (simulated) return 'simulated'
  return simulated === false || demo === false ? 'measured' : 'all'
}

/** One thing that narrows, with the filter that lacks it: what a chip shows and takes away. */
export interface FilterPart {
  readonly kind: 'days' | 'object' | 'tag' | 'material' | 'series' | 'methods' | 'range' | 'origin'
  readonly without: Filter
}

const NAMES: Record<FilterPart['kind'], readonly (keyof Filter)[]> = {
  object: ['object'],
  tag: ['tag'],
  material: ['material'],
  series: ['series'],
  days: ['fromMs', 'toMs'],
  range: ['fromK', 'toK'],
  methods: ['methods'],
  origin: ['simulated', 'demo', 'damaged'],
}

/** All that narrows but the searched words, which stand in their own field. */
export function partsOfFilter(filter: Filter): FilterPart[] {
  return (Object.keys(NAMES) as FilterPart['kind'][])
    .filter((kind) => NAMES[kind].some((name) => filter[name] !== undefined))
    .map((kind) => {
      const without: Record<string, unknown> = { ...filter }
      for (const name of NAMES[kind]) delete without[name]
      return { kind, without }
    })
}

function kelvin(text: string, unit: TemperatureUnit): number | null {
  const value = typedNumber(text)
  return value === null ? null : temperatureFromUnit(value, unit)
}

/** Days are those of this device's clock. */
function dayBegins(day: string): number | null {
  const ms = new Date(`${day}T00:00:00`).getTime()
  return Number.isFinite(ms) ? ms : null
}

function dayEnds(day: string): number | null {
  const begins = dayBegins(day)
  if (begins === null) return null
  const next = new Date(begins)
  // By the calendar: a day of a clock change has 23 or 25 hours.
  next.setDate(next.getDate() + 1)
  return next.getTime() - 1
}

export function dayOf(ms: number): string {
  const date = new Date(ms)
  const pad = (n: number) => String(n).padStart(2, '0')
  return `${date.getFullYear()}-${pad(date.getMonth() + 1)}-${pad(date.getDate())}`
}
