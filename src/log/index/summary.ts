import { msOf } from '../schema/moment.ts'
import { currentResult, firstResult, METHODS, type Reading } from '../schema/reading-schema.ts'
import type { Summary } from '../schema/types.ts'
import { fold } from './fold.ts'

const NOTES_SHOWN = 120

/** A reading in one line of the log. */
export function summaryOf(reading: Reading): Summary {
  const result = currentResult(reading)
  const sound = result.kind === 'temperature' ? result : null
  return {
    id: reading.id,
    takenAt: reading.takenAt.iso,
    zone: reading.takenAt.zone,
    takenAtMs: msOf(reading.takenAt),
    method: reading.method,
    simulated: reading.simulated,
    demo: reading.demo,
    damaged: false,
    kind: result.kind,
    temperatureK: result.kind === 'none' ? null : result.temperatureK,
    standardUncertaintyK: sound?.standardUncertaintyK ?? null,
    expandedUncertaintyK: sound?.expandedUncertaintyK ?? null,
    interval95K: sound?.interval95K ?? null,
    object: reading.object,
    material: reading.material,
    tags: reading.tags,
    series: reading.series,
    notes: reading.notes.slice(0, NOTES_SHOWN),
    volts: reading.supply?.volts ?? null,
    watts: reading.supply?.watts ?? null,
    swatch: reading.swatch,
    hasPicture: reading.picture !== null,
    edited: reading.history.length > 0,
    recomputed: reading.recomputations.length > 0,
    methodVersion: result.methodVersion,
    movedK: movedBy(reading),
  }
}

function movedBy(reading: Reading): number | null {
  const { recomputations } = reading
  const now = recomputations.at(-1)?.result
  const before = recomputations.at(-2)?.result ?? firstResult(reading)
  if (!now || now.kind === 'none' || before.kind === 'none') return null
  return now.temperatureK - before.temperatureK
}

/** What stands for a record that never was readable: nothing is invented but its place. */
export function summaryOfDamaged(id: string, takenAtMs: number): Summary {
  return {
    id,
    takenAt: '',
    zone: '',
    takenAtMs,
    method: 'by hand',
    simulated: false,
    demo: false,
    damaged: true,
    kind: 'none',
    temperatureK: null,
    standardUncertaintyK: null,
    expandedUncertaintyK: null,
    interval95K: null,
    object: '',
    material: '',
    tags: [],
    series: null,
    notes: '',
    volts: null,
    watts: null,
    swatch: null,
    hasPicture: false,
    edited: false,
    recomputed: false,
    methodVersion: '',
    movedK: null,
  }
}

/** Bits of a summary by which it can be filtered without being read. */
export const METHOD_BITS = 0b1_1111
export const SIMULATED = 1 << 5
export const DEMO = 1 << 6
export const DAMAGED = 1 << 7

export function flagsOf(summary: Summary): number {
  return (
    METHODS.indexOf(summary.method) |
    (summary.simulated ? SIMULATED : 0) |
    (summary.demo ? DEMO : 0) |
    (summary.damaged ? DAMAGED : 0)
  )
}

/**
 * Everything that is searched as text, folded, one line a reading. Control characters stand between
 * the fields, so that a whole name can be looked for ("\u0001anvil\u0002") and no word runs across.
 */
export function digestOf(summary: Summary, notes: string): string {
  const tags = summary.tags.map((tag) => `\u0003${fold(tag)}`).join('')
  return (
    `\u0001${fold(summary.object)}\u0002${fold(summary.material)}${tags}\u0003` +
    `\u0004${fold(summary.series ?? '')}\u0005${fold(notes)}`
  )
}

export const wholeObject = (object: string) => `\u0001${fold(object)}\u0002`
export const wholeMaterial = (material: string) => `\u0002${fold(material)}\u0003`
export const wholeTag = (tag: string) => `\u0003${fold(tag)}\u0003`
export const wholeSeries = (series: string) => `\u0004${fold(series)}\u0005`

/** A summary as one line of JSON, values only: names would be most of its length. */
export function lineOf(s: Summary): string {
  return JSON.stringify([
    s.id,
    s.takenAt,
    s.zone,
    s.takenAtMs,
    s.kind,
    s.temperatureK,
    s.standardUncertaintyK,
    s.expandedUncertaintyK,
    s.interval95K,
    s.object,
    s.material,
    s.tags,
    s.series,
    s.notes,
    s.volts,
    s.watts,
    s.swatch,
    (s.hasPicture ? 1 : 0) | (s.edited ? 2 : 0) | (s.recomputed ? 4 : 0),
    s.methodVersion,
    s.movedK,
  ])
}

type Line = [
  string,
  string,
  string,
  number,
  Summary['kind'],
  number | null,
  number | null,
  number | null,
  [number, number] | null,
  string,
  string,
  string[],
  string | null,
  string,
  number | null,
  number | null,
  [number, number, number] | null,
  number,
  string,
  number | null,
]

/** Inverse of {@link lineOf} with {@link flagsOf}. */
export function summaryFromLine(line: string, flags: number): Summary {
  const f = JSON.parse(line) as Line
  return {
    id: f[0],
    takenAt: f[1],
    zone: f[2],
    takenAtMs: f[3],
    method: METHODS[flags & METHOD_BITS] ?? 'by hand',
    simulated: (flags & SIMULATED) !== 0,
    demo: (flags & DEMO) !== 0,
    damaged: (flags & DAMAGED) !== 0,
    kind: f[4],
    temperatureK: f[5],
    standardUncertaintyK: f[6],
    expandedUncertaintyK: f[7],
    interval95K: f[8],
    object: f[9],
    material: f[10],
    tags: f[11],
    series: f[12],
    notes: f[13],
    volts: f[14],
    watts: f[15],
    swatch: f[16],
    hasPicture: (f[17] & 1) !== 0,
    edited: (f[17] & 2) !== 0,
    recomputed: (f[17] & 4) !== 0,
    methodVersion: f[18],
    movedK: f[19],
  }
}
