import type { Course } from '../../estimate/recording/course.ts'
import type { LawFit } from '../../estimate/recording/laws.ts'
import type { Plateau } from '../../estimate/recording/plateaus.ts'
import type { SlopeLimit } from '../../estimate/recording/slope.ts'
import type { Flag } from '../../log/recordings/columns.ts'
import type { RecordingHead } from '../../log/recordings/recording-schema.ts'
import { differenceInUnit } from '../../physics/units.ts'
import type { ReferenceObstacle } from '../../session/recording/plateau-reference.ts'
import { temperatureUnit, UNIT_SYMBOLS } from '../temperature.ts'
import type { Notice } from './estimate.ts'
import { recordingsWord } from './log.ts'

/** Digits of a value that its uncertainty supports: two of the uncertainty. */
function rounded(value: number, expanded: number): readonly [string, string] {
  const power = expanded > 0 ? Math.floor(Math.log10(expanded)) - 1 : 0
  const step = 10 ** power
  const decimals = Math.max(0, -power)
  const up = Math.ceil(expanded / step - 1e-9) * step
  const text = (Math.round(value / step) * step).toFixed(decimals).replace('-', '−')
  return [text, up.toFixed(decimals)]
}

/** "46.5 ± 0.3 s" from a standard uncertainty. */
export function showSeconds(seconds: number, standardUncertainty: number): string {
  const [value, half] = rounded(seconds, Math.max(2 * standardUncertainty, 0.05))
  return `${value} ± ${half} s`
}

/** "−310 ± 12 K/min" in the chosen unit, from K/s. */
export function showSlope(slope: number, standardUncertainty: number): string {
  const unit = temperatureUnit.value
  const perMinute = (perSecond: number) => differenceInUnit(60 * perSecond, unit)
  const [value, half] = rounded(
    perMinute(slope),
    Math.max(2 * perMinute(standardUncertainty), 0.01),
  )
  return `${value} ± ${half} ${unit === 'F' ? UNIT_SYMBOLS.F : 'K'}/min`
}

/** What most of a slope's ± comes from, and the one step that would make it surer. */
export const SLOPE_LIMITS: Record<SlopeLimit, string> = {
  noise: 'Most of the ± is scatter. Surer: a longer part.',
  scale:
    'Most of the ± shifts the whole curve. Surer: a melt that stands in it and sets it, or known heats of this camera.',
  exposure:
    'Most of the ± is the colour’s. Surer next time: exposure locked and phone on a stand, so that brightness tells the slope.',
  'tone curve':
    'Most of the ± is the camera’s tone curve. Surer next time: on the live screen, an exposure sweep before recording.',
  jump: 'Most of the ± is a changed exposure. Surer: a part without one.',
}

export const SOURCES: Record<RecordingHead['source'], string> = {
  live: 'Live',
  video: 'Video',
  table: 'Table',
}

export const ENDED: Record<RecordingHead['ended'], string | null> = {
  'by hand': null,
  'by limit': 'It ended at its limit.',
  'cut off': 'It was cut off: the app or the phone ended. All up to then is here.',
}

export const FLAG_WORDS: Record<Flag, string> = {
  clipped: 'overexposed',
  lost: 'glow lost',
  'below range': 'below range',
  'exposure changed': 'exposure changed',
  'balance drifts': 'white balance drifts',
  paused: 'no pictures',
  flicker: 'flicker',
}

/** What happens to a piece, as a tap says it. */
export const MARK_NAMES = ['Power on', 'Power off', 'Quench', 'Mark'] as const

const PLATEAU_NAMES: Record<Plateau['kind'], Record<Plateau['during'], string>> = {
  plateau: { cooling: 'It stands while cooling', heating: 'It stands while heating' },
  slowing: { cooling: 'Cooling slows', heating: 'Heating slows' },
  reversal: { cooling: 'It warms while cooling', heating: 'It cools while heating' },
}
export const plateauName = ({ kind, during }: Plateau): string => PLATEAU_NAMES[kind][during]

export const NO_MEANING =
  'No known freezing, melting or change of steel lies here. The supply may have been changed.'

/** Verb for a melt, seen from the side it comes from. */
export const meltVerb = (during: Plateau['during']) => (during === 'cooling' ? 'freezes' : 'melts')

export const CONDITIONS: Record<string, string> = {
  covered: 'under charcoal',
  'open-air': 'in open air',
  'low-carbon': 'low carbon',
  'medium-carbon': 'medium carbon',
  'high-carbon': 'high carbon',
  unknown: 'carbon not known',
}

export const REFERENCE_OBSTACLES: Record<ReferenceObstacle, string> = {
  'no look': 'No whole measurement lies near it, so it cannot become a known heat.',
  'white balance not fixed':
    'White balance was not locked, so it cannot become a known heat: lock it, or use a grey card.',
  'no melt': 'Steel changes with carbon and rate: no scale to set a camera by.',
}

export const KNOWN_HEAT_CAUTION =
  'Only if you know what was in the pot: pure salt or metal, and what you see is it or its oxidised crucible, not a bright bead.'

/** What a recording is called that a melt in it has set. */
export const setName = (object: string): string => `${object || 'Recording'}, set by its plateau`

export const SET_BY_HEAT = 'Kept as a second recording. The first stays as it was read.'

/** Where a second melt would set the curve. */
export const HEATS_DISAGREE =
  'This does not fit with the plateau that set the curve: one was another melt, the camera or its view changed, or its tone curve is too far off.'

export const falseAlarms = (share: number) =>
  `Without any, at most one recording in ${Math.round(1 / share)} shows one by mistake.`

export const COURSE_WORDS: Record<Course['verdict'], string> = {
  steady: 'Steady',
  rising: 'Still rising',
  falling: 'Still falling',
  'not known': 'Not known yet',
}

export const LAW_NAMES: Record<LawFit['law'], string> = {
  exponential: 'Exponential (Newton)',
  radiative: 'Radiative (T⁴)',
}

export const NO_LAW = 'Neither an exponential nor a radiative law fits this stretch.'
export const LAW_NEEDS = 'Too few readings in this stretch for a law.'

export const EMPTY_RECORDINGS =
  'Record live, or open a video of a glow: an element that warms up, a bar that cools in the air, a melt that freezes.'

export const RECORDING_LIMIT =
  'It ends by itself after two hours. Plug the phone in; keep it out of the heat and the screen on.'

export const BATTERY_LOW: Notice = {
  weight: 'warn',
  title: 'The battery is low',
  todo: 'Plug the phone in, or the recording may end early. What is recorded stays.',
}

export const SLOW_DEVICE: Notice = {
  weight: 'note',
  title: 'The device gives fewer readings than asked',
  todo: 'It may be hot or saving its battery. The times are right all the same.',
}

export const NOT_REACHED = {
  from: 'The curve does not pass the first temperature.',
  to: 'The curve does not reach the second temperature.',
} as const

export const importedRecordings = (added: number, kept: number): string =>
  added + kept === 0
    ? 'No recording in this file.'
    : `${recordingsWord(added)} imported${kept > 0 ? `, ${kept} here already` : ''}.`

export const MANY_MEANINGS =
  'Several known points lie within the ±: the curve alone does not tell which. Say what it was.'
