import type { Comparison } from '../../log/statistics/compare.ts'
import { showDifference } from '../temperature.ts'
import { showSpan } from '../temperature-span.ts'
import { termName } from './budget-terms.ts'

/** What a comparison of two readings says. */
export function comparisonWords(of: Comparison): { title: string; line: string } {
  const { differenceK, standardUncertaintyK, verdict } = of
  if (differenceK === null || standardUncertaintyK === null) {
    return verdict === 'differ'
      ? { title: 'They differ', line: 'One is above what the other can be at most.' }
      : { title: 'Cannot be told', line: 'One of them has no temperature to compare.' }
  }
  const size = Math.abs(differenceK)
  const limit = showDifference(2 * standardUncertaintyK)
  if (verdict === 'differ') {
    return {
      title: `${differenceK > 0 ? 'The first' : 'The second'} is hotter`,
      line: `By ${showSpan(size, 2 * standardUncertaintyK)}${surer(of) ? ', though each by itself is less sure' : ''}.`,
    }
  }
  return {
    title: 'The same within what can be seen',
    line: `They are ${showDifference(size)} apart, within the ± of ${limit} between them.`,
  }
}

/** Whether the difference is known better than the less sure of the two must be. */
const surer = ({ standardUncertaintyK, ifIndependentK }: Comparison) =>
  (standardUncertaintyK ?? 0) < (ifIndependentK ?? 0) / Math.SQRT2

export const PAIR_WORDS = {
  comparing: 'Comparing …',
  failed: 'The two could not be compared. Open this page again.',
  noAdvice: 'The next step could not be worked out.',
} as const

/** Whether a card in each picture is the next step: none is longer than with a figure. */
export const nextSentence = (withCardsK: number | null): string =>
  withCardsK === null
    ? 'A grey card in each picture would hardly make it surer.'
    : `Next: put the grey card into each picture. The difference would be known to ${`± ${showDifference(2 * withCardsK)}`.replaceAll(' ', '\u00a0')}.`

/** Causes that are named, the weightiest first. */
const MOST_NAMED = 3

/** Why two readings of one camera tell smaller differences than their own ± suggest. */
export function sharedSentence(of: Comparison): string {
  const all = [...new Set(of.sharedCauses.map(({ term }) => termName(term).toLowerCase()))]
  const more = all.length > MOST_NAMED ? [`${all.length - MOST_NAMED} more`] : []
  const names = [...all.slice(0, MOST_NAMED), ...more]
  const unknown = of.partlyUnknown ? ' Part of the ± is not explained and taken as apart.' : ''
  if (names.length === 0) {
    return of.standardUncertaintyK === null ? '' : `They share no cause of error.${unknown}`
  }
  const between = showDifference(2 * (of.standardUncertaintyK ?? 0))
  const alone = showDifference(2 * (of.ifIndependentK ?? 0))
  const apart =
    of.ifIndependentK === null || alone === between ? '' : ` (else it would be ± ${alone})`
  const list = new Intl.ListFormat('en-GB').format(names)
  return `They share ${list}: that errs alike in both and cancels${apart}.${unknown}`
}
