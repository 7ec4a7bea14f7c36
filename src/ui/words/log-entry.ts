import type { Moment } from '../../log/schema/fields.ts'
import type { Changes, Editable, Reading } from '../../log/schema/types.ts'
import { numberText } from '../../session/typed-number.ts'
import { showFigure, showMove, showTemperature } from '../temperature.ts'
import { showMoment } from './dates.ts'
import { NO_NUMBER } from './estimate.ts'
import { coverName, surfaceName } from './log.ts'
import { ownEntry } from './own-entry.ts'

/** Words of one reading in the log. */

/** Why a reading has no figure; a reason of another version keeps its own words. */
export function reasonWords(reason: string): string {
  const known = ownEntry<{ title: string; todo: string }>(NO_NUMBER, reason)
  return known ? `${known.title}. ${known.todo}` : reason
}

/** ", Europe/Vienna" or the offset; empty when nothing is known. */
export function zoneWords({ iso, zone }: Moment): string {
  const offset = /[+-]\d\d:\d\d$/.exec(iso)?.[0]
  if (zone !== '') return `, ${zone.replaceAll('_', ' ')}`
  return offset ? ` (UTC ${offset})` : ''
}

export function supplyWords({ volts, amperes, watts }: NonNullable<Editable['supply']>): string {
  const parts = [
    volts !== null && `${numberText(volts, 6)} V`,
    amperes !== null && `${numberText(amperes, 6)} A`,
    watts !== null && `${numberText(watts, 6)} W`,
  ].filter((part) => part !== false)
  return parts.length > 0 ? parts.join(', ') : 'not given'
}

export function partWords(part: Reading['parts'][number]): string {
  const share = `${Math.round(100 * part.weight)} %`
  return `${showFigure(part.temperatureK, 2 * part.standardUncertaintyK)}, weight ${share}`
}

const FIELD_NAMES: Record<keyof Editable, string> = {
  takenAt: 'Taken',
  object: 'Object',
  material: 'Surface',
  notes: 'Notes',
  tags: 'Tags',
  series: 'Series',
  supply: 'Supply',
  place: 'Place',
  roomTemperatureK: 'Room',
  cover: 'In front',
}

/** Former values as lines: "Object: bar 3". */
export function formerWords(values: Changes): string[] {
  const lines: string[] = []
  for (const name of Object.keys(values) as (keyof typeof values)[]) {
    if (name === 'result') {
      const { result } = values
      if (result?.kind === 'temperature') {
        lines.push(`Temperature: ${showFigure(result.temperatureK, result.expandedUncertaintyK)}`)
      }
      continue
    }
    lines.push(`${FIELD_NAMES[name]}: ${fieldWords(name, values) || 'empty'}`)
  }
  return lines
}

function fieldWords(name: keyof Editable, values: Changes): string {
  switch (name) {
    case 'takenAt':
      return values.takenAt ? showMoment(values.takenAt.iso) : ''
    case 'supply':
      return values.supply ? supplyWords(values.supply) : ''
    case 'roomTemperatureK':
      return values.roomTemperatureK ? showTemperature(values.roomTemperatureK) : ''
    case 'tags':
      return (values.tags ?? []).join(', ')
    case 'material':
      return values.material ? surfaceName(values.material) : ''
    case 'cover':
      return values.cover ? coverName(values.cover) : ''
    default:
      return values[name] ?? ''
  }
}

/** What is wrong with a typed field. */
export const FIELD_PROBLEMS = {
  'no number': 'A number, please.',
  'not negative': 'Not below zero.',
  'no such temperature': 'Only from −223 to 19 700 °C (50 to 20 000 K).',
  'no such uncertainty': 'Zero, or from 0.00001 to 1 000 000.',
  'no such value': 'Zero, or from 0.000000001 to 1 000 000 000.',
  'no date': 'A date and a time, please.',
  'too long': 'At most 40 tags of 60 letters.',
} as const

/** What computing a reading again came to, where it offers nothing. */
export const AGAIN_WORDS = {
  'other method': 'Only readings by colour or by spectrum are computed again.',
  'no inputs': 'It was saved without what is needed to compute it again.',
  'inputs unreadable': 'What is needed to compute it again is not as it should be.',
  'no reason': null,
  'same figure': 'Computed again just now: the same figure.',
} as const

type Reason = 'method' | 'surface' | 'cover' | 'known heats'

const REASON_SENTENCES: Record<Reason, string> = {
  method: 'The method has changed since.',
  surface: 'The surface is stated otherwise now.',
  cover: 'What stood in front is stated otherwise now.',
  'known heats': 'The kit has other known heats now.',
}

/** Why another figure is offered. */
export function recomputeSentence(reasons: readonly Reason[]): string {
  const why = reasons.map((reason) => REASON_SENTENCES[reason])
  return [...why, 'Computed again from what was stored:'].join(' ')
}

/** By how much a figure moved when it was computed again; null where one of both is none. */
export function movedWords(
  before: { readonly kind: string; readonly temperatureK?: number },
  now: { readonly kind: string; readonly temperatureK?: number },
): string | null {
  if (before.temperatureK === undefined || now.temperatureK === undefined) return null
  const moved = now.temperatureK - before.temperatureK
  return Math.round(moved) === 0 ? 'The figure did not move.' : `Moved by ${showMove(moved)}.`
}

const REASON_NAMES: Record<Reason, string> = {
  method: 'newer method',
  surface: 'other surface',
  cover: 'other cover',
  'known heats': 'other known heats',
}

/** The same for the log, kept with the result. */
export function recomputeReason(reasons: readonly Reason[]): string {
  return reasons.map((reason) => REASON_NAMES[reason]).join(', ') || 'same inputs'
}
