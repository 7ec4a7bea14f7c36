import type { EstimateKind, SingleEstimate } from '../../estimate/consensus.ts'
import { currentResult } from '../../log/schema/reading-schema.ts'
import type { Method, Reading } from '../../log/schema/types.ts'

/** What a method's reading is as an estimate; null for what is made of other readings. */
const KINDS: Record<Method, EstimateKind | null> = {
  photo: 'camera colour',
  raw: 'camera colour',
  sweep: 'camera colour',
  live: 'camera colour',
  practice: 'camera colour',
  'by eye': 'by eye',
  'by hand': 'known heat',
  spectrum: 'spectrum',
  supply: 'supply',
  brightness: 'brightness',
  combined: null,
  'hot work': null,
}

/**
 * A reading as an estimate. Terms that readings share (one camera, one surface) keep one id, so that
 * the consensus knows that they err together; a term and its cause belong together, since the two
 * errors of one cause need not.
 */
export function singleEstimate(reading: Reading): SingleEstimate | null {
  const result = currentResult(reading)
  const kind = KINDS[reading.method]
  if (result.kind !== 'temperature' || !kind) return null
  const own = { id: `${reading.id} own`, effectK: result.standardUncertaintyK }
  return {
    id: reading.id,
    kind,
    temperatureK: result.temperatureK,
    terms:
      result.budget.length === 0
        ? [own]
        : result.budget.map(({ term, contributionK, sharedBy }) => ({
            id: sharedBy === null ? `${reading.id} ${term}` : `${sharedBy} ${term}`,
            effectK: contributionK,
          })),
  }
}
