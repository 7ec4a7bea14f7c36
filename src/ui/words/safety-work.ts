import type { FireWatchRefusal } from '../../session/safety/fire-watch.ts'
import type { JobKind, OpenJob } from '../../session/safety/job.ts'
import { isTicked } from '../../session/safety/job.ts'
import { CLOSING_CHECKS, JOB_CHECKS } from './safety-statements.data.ts'

export const JOB_NAMES: Record<JobKind, string> = {
  'mains element': 'Mains element',
  lamp: 'Filament or halogen lamp',
  forge: 'Forge and torch',
  kiln: 'Kiln and furnace',
  melting: 'Melting salt or metal',
  quenching: 'Quenching',
}

export const USUAL_CAUTIONS =
  'Usual cautions. Local codes, the maker’s instructions and licensed practice come first.'

export const WATCH_WORDS = {
  title: 'Fire watch',
  line: 'At least 30 minutes after the work by OSHA, 60 by NFPA 51B. Somebody stays and looks round.',
  locked:
    'A locked or sleeping phone may stay silent. Set the phone’s own alarm for the same time besides.',
  over: 'The fire watch is over. Look round once more.',
  due: 'Look round now, then tap.',
} as const

export const WATCH_REFUSALS: Record<FireWatchRefusal, string> = {
  'no minutes': 'How many minutes? 30 or more.',
  'too long': 'At most a day (1440 minutes).',
  'reason needed': 'Below 30 minutes only with a reason; it is kept in the log.',
}

/** "1:05:09" or "12:30". */
export function clockWords(seconds: number): string {
  const whole = Math.ceil(seconds)
  const parts = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60]
  const shown = parts[0] === 0 ? parts.slice(1) : parts
  return shown.map((part, i) => (i === 0 ? `${part}` : `${part}`.padStart(2, '0'))).join(':')
}

/** "40 s", "3 min", "2 h": as people plan with. */
export function spanWords(seconds: number): string {
  if (seconds < 100) return `${Math.max(1, Math.round(seconds))} s`
  if (seconds < 100 * 60) return `${Math.round(seconds / 60)} min`
  return `${Math.round(seconds / 3600)} h`
}

const tickedOf = (job: OpenJob, own: readonly { id: string; text: string }[]) =>
  [...JOB_CHECKS[job.kind], ...own]
    .map(({ id, text }) => `${isTicked(job, 'ticked', id) ? '[x]' : '[ ]'} ${text}`)
    .join('\n')

/** What was ticked, as the log keeps it. */
export function jobNotes(
  job: OpenJob,
  own: readonly { id: string; text: string }[],
  readings: number,
): string {
  const closing = CLOSING_CHECKS.map(
    ({ id, text }) => `${isTicked(job, 'closed', id) ? '[x]' : '[ ]'} ${text}`,
  ).join('\n')
  return `${JOB_NAMES[job.kind]}, from ${job.startedAt}\n\nBefore\n${tickedOf(job, own)}\n\nAfter\n${closing}\n\n${readings} ${readings === 1 ? 'reading' : 'readings'} in that time.`
}
