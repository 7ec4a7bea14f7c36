import type { FireWatchRefusal } from '../../session/safety/fire-watch.ts'
import type { OpenJob } from '../../session/safety/job.ts'
import { isTicked } from '../../session/safety/job.ts'
import { JOB_NAMES } from './safety-names.ts'
import { CLOSING_CHECKS, JOB_CHECKS } from './safety-statements.data.ts'

export const USUAL_CAUTIONS =
  'Usual cautions. Local codes, the maker’s instructions and licensed practice come first.'

export const WATCH_WORDS = {
  title: 'Fire watch',
  line: 'At least 30 minutes after the work by OSHA, 60 by NFPA 51B. Somebody stays and looks round.',
  over: 'The fire watch is over. Look round once more.',
  due: 'Look round now, then tap.',
} as const

/** How to be woken where this page cannot. */
export const alarmWords = (endsAt: Date): string =>
  `A locked or sleeping phone may stay silent. Set its own alarm as well: Clock app, Alarm, ${endsAt.toLocaleTimeString(undefined, { hour: '2-digit', minute: '2-digit' })}.`

export const WATCH_REFUSALS: Record<FireWatchRefusal, string> = {
  'no minutes': 'How many minutes? 30 or more.',
  'too long': 'At most a day (1440 minutes).',
  'reason needed': 'Below 30 minutes only with a reason; it is kept in the log.',
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
