import type { Address } from '../router.ts'
import { documentTitle, PLACE_NAMES } from './places.ts'
import { READY_WORDS, STEP_WORDS } from './ready.ts'
import { WAYS } from './ways.ts'

/** The second part of an address, where it has a name of its own. */
const PARTS: Partial<Record<Address['place'], Readonly<Record<string, string>>>> = {
  reading: Object.fromEntries(WAYS.map(({ id, name }) => [id, name])),
  log: {
    'by-hand': 'Enter by hand',
    keeping: 'Backup and storage',
    pair: 'Two readings',
    series: 'Series',
    recordings: 'Recordings',
  },
  kit: {
    infrared: 'Test for infrared',
    ready: READY_WORDS.title,
    'known-heat': 'Known heat',
    lamp: 'Lamp',
    'lamp-photo': 'Photo of a lamp',
  },
  safety: { distance: 'How near, how long?', statements: 'Cautions and their sources' },
}

/** What a tab shows: `/kit/ready/card` -> "Grey card · Make this camera ready · Glowbook". */
export function screenTitle({ place, rest }: Address): string {
  const [part = '', detail = ''] = rest.split('/')
  if (part === '') return documentTitle(PLACE_NAMES[place])
  const name = PARTS[place]?.[part]
  // What has no name in the log is the id of a reading.
  if (name === undefined)
    return documentTitle(place === 'log' ? 'Reading in the log' : PLACE_NAMES[place])
  const own = detailName(place, part, detail)
  return documentTitle(own === '' ? name : `${own} · ${name}`)
}

function detailName(place: Address['place'], part: string, detail: string): string {
  if (place === 'log' && part === 'series') return detail
  if (place === 'log' && part === 'recordings') {
    return detail === 'video' ? 'From a video' : detail === '' ? '' : 'Curve'
  }
  if (place === 'kit' && part === 'ready') {
    const step = Object.entries(STEP_WORDS).find(([id]) => id === detail)
    return step ? step[1].name : detail === 'photos' ? 'Photos' : ''
  }
  return ''
}
