import type { SingleEstimate } from '../../estimate/consensus.ts'
import { currentResult } from '../../log/schema/reading-schema.ts'
import type { Reading } from '../../log/schema/types.ts'
import { ownUncertaintyK, wholeCause } from '../../log/statistics/shared-terms.ts'
import { singleEstimate, uncertaintyOf } from './single-estimate.ts'

/** One instrument at one moment: a series, or repeated saves, stand as one. */
export interface Representative {
  /** The reading nearest to the middle of those that it stands for. */
  readonly reading: Reading
  readonly estimate: SingleEstimate
  readonly standardUncertaintyK: number
  /** Half of the 95 % range as the reading states it, or twice the standard uncertainty of several, K. */
  readonly expandedUncertaintyK: number
  /** Ids of all readings that it stands for, newest first. */
  readonly ids: readonly string[]
  /** Time of the newest of them, milliseconds since 1970. */
  readonly newestMs: number
  /** From the coldest to the hottest of them, K. */
  readonly rangeK: number
  /** The heat moved while it was read, by more than its own standard uncertainty. */
  readonly changing: boolean
}

/** Readings this close in time are taken as of one heat; common practice. */
export const SAME_HEAT_MS = 3_600_000
/** A range beyond this many of a reading's own standard uncertainties is a heat that moved. */
const MOVED = 4

/**
 * One representative per instrument and moment: readings of one camera share nearly all their error,
 * so that many of them are not more evidence than one.
 *
 * @param readings in any order; those without a temperature are left out
 * @returns newest first
 */
export function representatives(readings: readonly Reading[]): Representative[] {
  const members = readings
    .flatMap((reading) => {
      const estimate = singleEstimate(reading)
      return estimate ? [{ reading, estimate, atMs: Date.parse(reading.takenAt.iso) }] : []
    })
    .sort((a, b) => b.atMs - a.atMs)
  const groups: (typeof members)[] = []
  for (const member of members) {
    const group = groups.find(([newest]) => newest && sameMoment(newest, member))
    if (group) group.push(member)
    else groups.push([member])
  }
  return groups.map((group) => {
    const byHeat = [...group].sort((a, b) => a.estimate.temperatureK - b.estimate.temperatureK)
    const { reading, estimate } = byHeat[Math.floor(byHeat.length / 2)]!
    const rangeK = byHeat.at(-1)!.estimate.temperatureK - byHeat[0]!.estimate.temperatureK
    const own = Math.max(...group.map((member) => ownOf(member.reading)))
    const moved = rangeK > MOVED * own
    // Anywhere within the range (rectangular, JCGM 100, 4.3.7).
    const movement = { id: `${reading.id} moved`, effectK: rangeK / Math.sqrt(12) }
    const terms = moved ? [...estimate.terms, movement] : estimate.terms
    const standardUncertaintyK = uncertaintyOf(terms)
    return {
      reading,
      estimate: { ...estimate, terms },
      standardUncertaintyK,
      expandedUncertaintyK: moved ? 2 * standardUncertaintyK : statedK(reading),
      ids: group.map((member) => member.reading.id),
      newestMs: group[0]!.atMs,
      rangeK,
      changing: moved && rangeK > uncertaintyOf(estimate.terms),
    }
  })
}

interface Member {
  readonly reading: Reading
  readonly estimate: SingleEstimate
  readonly atMs: number
}

function sameMoment(a: Member, b: Member): boolean {
  if (a.estimate.kind !== b.estimate.kind || instrumentOf(a) !== instrumentOf(b)) return false
  const oneSeries = a.reading.series !== null && a.reading.series === b.reading.series
  return oneSeries || Math.abs(a.atMs - b.atMs) <= SAME_HEAT_MS
}

/** The camera, as the budget names it. */
function instrumentOf({ reading }: Member): string {
  const result = currentResult(reading)
  if (result.kind !== 'temperature') return ''
  const cause = result.budget.find(({ term }) => term === 'camera')?.sharedBy
  return cause ? wholeCause(cause) : ''
}

function statedK(reading: Reading): number {
  const result = currentResult(reading)
  return result.kind === 'temperature' ? result.expandedUncertaintyK : 0
}

function ownOf(reading: Reading): number {
  const result = currentResult(reading)
  return result.kind === 'temperature' ? ownUncertaintyK(result) : 0
}
