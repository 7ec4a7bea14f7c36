import type { GreyBalance, Linearity } from '../../estimate/types.ts'
import type { ImportPreview, ImportReport } from '../../log/schema/import-preview.ts'
import type { FixedPointGroup, MeltAtmosphere } from '../../physics/fixed-points.ts'
import type { Notice } from './estimate.ts'

export const KIT_WORDS = {
  empty:
    'Cameras do not see red as an eye does. Show yours one thing whose heat you know, and readings near it become several times surer.',
  emptyHeats:
    'None yet. A pinch of table salt, melting on an oxidised piece, is the best first one.',
  emptyGreys: 'None yet. A card is kept from the reading: place it there, give it a name.',
  emptyLamps:
    'None yet. A filament lamp with a voltmeter or a wattmeter serves as a known heat too.',
  noLampYet: 'No lamp is in hand. Measure one first.',
  gone: 'This is not in the kit of this device.',
  thirdParties: 'Software of others in this app, and its licences',
  damaged: (count: number): Notice => ({
    weight: 'warn',
    title: count === 1 ? 'One item is damaged' : `${count} items are damaged`,
    todo: 'Used for nothing, and kept as they are. Update the app, or read in a backup; delete what is of no use.',
  }),
  whatIsWrong: (where: string) =>
    where === '' ? 'Of another version.' : `What is wrong: ${where}`,
} as const

/** Groups of known heats in the order in which they are offered. */
export const HEAT_GROUP_WORDS: Record<
  FixedPointGroup,
  { readonly name: string; readonly line: string }
> = {
  salt: {
    name: 'Salts that melt',
    line: 'A pinch on an oxidised carrier. The surest, and it costs nothing.',
  },
  steel: { name: 'Steel by itself', line: 'No instrument, but wider.' },
  metal: { name: 'Metals that melt', line: 'A snippet on a carrier.' },
  stated: { name: 'By its value', line: 'You state the temperature and its limits of error.' },
}

export const ATMOSPHERE_WORDS: Record<MeltAtmosphere, string> = {
  'open-air': 'Open air',
  covered: 'Under charcoal or inert gas',
}

/** Why the open photo cannot be stored as a reference. */
export const OBSTACLE_WORDS: Record<
  'no photo' | 'no temperature' | 'not measured' | 'white balance not fixed' | 'no surface',
  Notice | null
> = {
  'no photo': null,
  'no temperature': null,
  'not measured': null,
  'white balance not fixed': {
    weight: 'stop',
    title: 'Lock the white balance',
    todo: 'A known heat counts only for a camera that stays as it is. If it was locked, say below on what; if not, lock it and take the photo again.',
  },
  'no surface': {
    weight: 'note',
    title: 'Say which surface is read',
    todo: 'The carrier beside the melt, or the piece itself. It decides how far the known heat counts for others.',
  },
}

/** The open photo against everything else that is known of cameras and of this one. */
export const MISFIT: Notice = {
  weight: 'warn',
  title: 'This does not fit',
  todo: 'Its colour is further off than cameras differ. Check the region, what it shows, the white balance and the grey card before you keep it.',
}

/** A reference against all others, in standard deviations. */
export function residualWords(standardisedResidual: number): string {
  const size = Math.abs(standardisedResidual)
  const side = standardisedResidual > 0 ? 'greener' : 'redder'
  if (size < 1) return 'agrees with the rest'
  if (size <= 3) return `${side} than expected, within what happens`
  return `${side} than the rest allows (${size.toFixed(1)} standard deviations)`
}

/** How the photo became linear light: references and readings of one path go together best. */
export const LINEARITY_WORDS: Record<Linearity['kind'], string> = {
  linear: 'linear',
  raw: 'raw photo',
  sweep: 'tone curve from a sweep',
  single: 'ordinary photo',
}

/** The light that lay on a grey card: "daylight, 6504 ± 1000 K". */
export function lightWords({
  kind,
  colourTemperatureK,
  standardUncertaintyK,
}: GreyBalance['light']): string {
  const names = { daylight: 'daylight', filament: 'filament lamp', other: 'other light' } as const
  return `${names[kind]}, ${colourTemperatureK.toFixed(0)} ± ${(2 * standardUncertaintyK).toFixed(0)} K`
}

const things = (n: number, one: string, many: string) => (n === 1 ? `1 ${one}` : `${n} ${many}`)

/** What a file would bring, before anything changes. */
export function previewWords({ kit, readings }: Pick<ImportPreview, 'kit' | 'readings'>): string {
  const sentences = [
    `The file holds ${things(kit.new, 'new kit item', 'new kit items')}`,
    kit.same > 0 ? `, ${kit.same} that are here already` : '',
    kit.conflicting > 0 ? `, ${kit.conflicting} that differ from yours` : '',
    '.',
    readings.new > 0
      ? ` It also holds ${things(readings.new, 'reading', 'readings')}, which come along.`
      : '',
  ]
  return sentences.join('')
}

export function importedWords({ added, changed }: Pick<ImportReport, 'added' | 'changed'>): string {
  const parts = [
    things(added, 'item imported', 'items imported'),
    ...(changed > 0 ? [things(changed, 'changed', 'changed')] : []),
  ]
  return `${parts.join(', ')}.`
}
