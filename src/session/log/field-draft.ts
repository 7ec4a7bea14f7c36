import * as v from 'valibot'
import { electricalOrNone, temperatureK, uncertaintyK } from '../../log/schema/quantities.ts'
import { firstResult } from '../../log/schema/reading-schema.ts'
import type { Changes, Editable, Reading, Result } from '../../log/schema/types.ts'
import { momentFromWallClock, wallClock } from '../../log/schema/wall-clock.ts'
import { symmetricResult } from '../../log/statistics/symmetric-result.ts'
import {
  differenceFromUnit,
  differenceInUnit,
  type TemperatureUnit,
  temperatureFromUnit,
  temperatureInUnit,
} from '../../physics/units.ts'
import { numberText, typedNumber } from '../typed-number.ts'

/** The fields of a reading as they are typed. */
export interface FieldDraft {
  readonly takenAt: string
  readonly object: string
  readonly material: string
  readonly cover: string
  /** Separated by commas. */
  readonly tags: string
  readonly notes: string
  readonly series: string
  readonly volts: string
  readonly amperes: string
  readonly watts: string
  readonly place: string
  readonly room: string
  /** For readings entered by hand. */
  readonly temperature: string
  readonly plusMinus: string
}
export type FieldName = keyof FieldDraft

/** What is wrong with a field, as a code. */
export type FieldProblem =
  | 'no number'
  | 'not negative'
  | 'no such temperature'
  | 'no such uncertainty'
  | 'no such value'
  | 'no date'
  | 'too long'

/** Is the temperature a field? Measured it is not; of a new reading by hand it must be there. */
export type FigureField = 'measured' | 'typed' | 'to be typed'

export type DraftChanges =
  | { readonly ok: true; readonly changes: Changes }
  | { readonly ok: false; readonly problems: Readonly<Partial<Record<FieldName, FieldProblem>>> }

/** Stored with a reading that a person typed. */
export const BY_HAND_VERSION = 'by hand 1'
const TAGS_MOST = 40
const TAG_LONGEST = 60

/** What a reading's fields say; for one entered by hand with its temperature. */
export function fieldDraftOf(
  of: Editable & Partial<Pick<Reading, 'method' | 'result'>>,
  unit: TemperatureUnit,
): FieldDraft {
  // Entered by hand: an edit replaces the result itself, nothing is recomputed.
  const entered = of.method === 'by hand' && of.result ? firstResult({ result: of.result }) : null
  const typed = entered?.kind === 'temperature' ? entered : null
  return {
    takenAt: wallClock(of.takenAt),
    object: of.object,
    material: of.material,
    cover: of.cover,
    tags: of.tags.join(', '),
    notes: of.notes,
    series: of.series ?? '',
    volts: numberText(of.supply?.volts, 6),
    amperes: numberText(of.supply?.amperes, 6),
    watts: numberText(of.supply?.watts, 6),
    place: of.place,
    room:
      of.roomTemperatureK === null
        ? ''
        : numberText(temperatureInUnit(of.roomTemperatureK, unit), 1),
    temperature: typed ? numberText(temperatureInUnit(typed.temperatureK, unit), 1) : '',
    plusMinus: typed ? numberText(differenceInUnit(typed.expandedUncertaintyK, unit), 1) : '',
  }
}

/** Names of the fields that differ. */
export function changedFields(before: FieldDraft, now: FieldDraft): FieldName[] {
  return (Object.keys(now) as FieldName[]).filter((name) => now[name] !== before[name])
}

/**
 * What typing has changed, checked. A field that was left alone keeps its stored value to the last
 * digit, whatever it is shown as.
 */
export function changesOfDraft(
  of: Editable,
  before: FieldDraft,
  now: FieldDraft,
  unit: TemperatureUnit,
  figure: FigureField,
): DraftChanges {
  const changed = new Set(changedFields(before, now))
  const problems: Partial<Record<FieldName, FieldProblem>> = {}
  const changes: Changes = {}

  if (changed.has('takenAt')) {
    const moment = momentFromWallClock(now.takenAt, of.takenAt)
    if (moment) changes.takenAt = moment
    else problems.takenAt = 'no date'
  }
  if (changed.has('object')) changes.object = now.object.trim()
  if (changed.has('material')) changes.material = now.material
  if (changed.has('cover')) changes.cover = now.cover
  if (changed.has('notes')) changes.notes = now.notes.trim()
  if (changed.has('place')) changes.place = now.place.trim()
  if (changed.has('series')) changes.series = now.series.trim() || null
  if (changed.has('tags')) {
    const tags = tagsOf(now.tags)
    if (tags.length > TAGS_MOST || tags.some((tag) => tag.length > TAG_LONGEST)) {
      problems.tags = 'too long'
    } else changes.tags = tags
  }
  if (changed.has('volts') || changed.has('amperes') || changed.has('watts')) {
    const read = (name: 'volts' | 'amperes' | 'watts'): number | null => {
      if (!changed.has(name)) return of.supply?.[name] ?? null
      const value = optionalNumber(now[name])
      if (value === 'no number') problems[name] = 'no number'
      else if (value !== null && value < 0) problems[name] = 'not negative'
      else if (value !== null && !v.is(electricalOrNone, value)) problems[name] = 'no such value'
      else return value
      return null
    }
    const supply = { volts: read('volts'), amperes: read('amperes'), watts: read('watts') }
    changes.supply = Object.values(supply).every((value) => value === null) ? null : supply
  }
  if (changed.has('room')) {
    const value = optionalNumber(now.room)
    const kelvin = typeof value === 'number' ? temperatureFromUnit(value, unit) : null
    if (value === 'no number') problems.room = 'no number'
    else if (kelvin !== null && !v.is(temperatureK, kelvin)) problems.room = 'no such temperature'
    else changes.roomTemperatureK = kelvin
  }
  const figureChanged = changed.has('temperature') || changed.has('plusMinus')
  if (figure === 'to be typed' || (figure === 'typed' && figureChanged)) {
    const temperature = typedNumber(now.temperature)
    const plusMinus = typedNumber(now.plusMinus)
    const kelvin = temperature === null ? null : temperatureFromUnit(temperature, unit)
    const expandedK = plusMinus === null ? null : differenceFromUnit(plusMinus, unit)
    if (kelvin === null) problems.temperature = 'no number'
    else if (!v.is(temperatureK, kelvin)) problems.temperature = 'no such temperature'
    if (expandedK === null) problems.plusMinus = 'no number'
    else if (expandedK < 0) problems.plusMinus = 'not negative'
    else if (!v.is(uncertaintyK, expandedK / 2)) problems.plusMinus = 'no such uncertainty'
    if (kelvin !== null && expandedK !== null) changes.result = resultByHand(kelvin, expandedK)
  }
  return Object.keys(problems).length > 0 ? { ok: false, problems } : { ok: true, changes }
}

/** A temperature with its ±, as a person states it: about 19 times in 20 (k = 2). */
export function resultByHand(temperatureK: number, expandedUncertaintyK: number): Result {
  const contributionK = expandedUncertaintyK / 2
  const budget = [{ term: 'by hand', contributionK, sharedBy: null }]
  return symmetricResult(temperatureK, contributionK, budget, BY_HAND_VERSION)
}

/** "hardening, second heat" -> two tags, each once. */
export function tagsOf(text: string): string[] {
  return [
    ...new Set(
      text
        .split(',')
        .map((tag) => tag.trim())
        .filter((tag) => tag !== ''),
    ),
  ]
}

/** Empty is null. */
function optionalNumber(text: string): number | null | 'no number' {
  return text.trim() === '' ? null : (typedNumber(text) ?? 'no number')
}
