import type { RecomputedAll } from '../../session/log/recompute-all.ts'
import { showMove } from '../temperature.ts'
import { readingsWord } from './log.ts'

/** Words for readings whose figure an earlier version of the method computed. */
export const OLDER_WORDS = {
  mark: 'Older method',
  moved: 'moved by',
  again: 'Compute again',
} as const

export const olderWords = (count: number) => `${readingsWord(count)} by an older method`

export const progressWords = (done: number, all: number) => `Computing again: ${done} of ${all}`

/** What came of it: how many, by how much they moved, what is left. */
export function recomputedWords({ kept, left, lost, movedK }: RecomputedAll): string {
  const lines: string[] = []
  if (kept > 0) lines.push(`${readingsWord(kept)} computed again; the former figures stay.`)
  if (movedK) {
    const [least, most] = movedK.map(showMove) as [string, string]
    if (Math.max(...movedK.map(Math.abs)) < 0.5) lines.push('No figure moved.')
    else lines.push(least === most ? `Moved by ${least}.` : `Moved by ${least} to ${most}.`)
  }
  if (lost > 0) lines.push(`${readingsWord(lost)} got no figure this time: open them to see why.`)
  if (left.length > 0) {
    lines.push(`${readingsWord(left.length)} saved without what is needed to compute again.`)
  }
  return lines.join(' ')
}
