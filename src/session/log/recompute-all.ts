import { currentResult } from '../../log/schema/reading-schema.ts'
import type { Log, LogView } from '../../log/schema/types.ts'
import { isByOlderMethod } from './older-method.ts'
import { type RecomputeReason, recomputePlan } from './recompute-plan.ts'

/** How many of the newest readings are looked through: the list must stay quick. */
const LOOKED_AT = 500

/** Ids of the newest readings of a view that an older method computed. */
export function olderReadings(view: LogView): readonly string[] {
  return view
    .summaries(0, Math.min(LOOKED_AT, view.count))
    .filter(isByOlderMethod)
    .map(({ id }) => id)
}

/** What computing many readings again came to. */
export interface RecomputedAll {
  /** Kept beside the former figures. */
  readonly kept: number
  /** Could not be computed: saved without what is needed. */
  readonly left: readonly string[]
  /** Had a figure and have none now. */
  readonly lost: number
  /** Least and most that a figure moved, K; null where none did. */
  readonly movedK: readonly [number, number] | null
}

/**
 * Computes readings again by today's method, each with what it states now, and keeps the results beside
 * the former ones.
 *
 * @param reasonOf what the log keeps as the reason
 * @param onDone called after each, with how many are done
 */
export async function recomputeAll(
  log: Log,
  ids: readonly string[],
  reasonOf: (reasons: readonly RecomputeReason[]) => string,
  onDone: (count: number) => void,
): Promise<RecomputedAll> {
  const { recompute } = await import('./recompute.ts')
  const left: string[] = []
  let movedK: [number, number] | null = null
  let kept = 0
  let lost = 0
  for (const [i, id] of ids.entries()) {
    const stored = await log.get(id)
    const reading = stored?.state === 'sound' ? stored.reading : null
    const plan = reading && recomputePlan(reading, null)
    if (!reading || !plan || typeof plan === 'string') left.push(id)
    else {
      const before = currentResult(reading)
      const { result, inputs, details, reasons } = recompute(reading, plan)
      await log.recompute(id, { result, inputs, details, reason: reasonOf(reasons) })
      kept++
      if (result.kind !== 'none' && before.kind !== 'none') {
        const moveK = result.temperatureK - before.temperatureK
        const [least, most]: readonly [number, number] = movedK ?? [moveK, moveK]
        movedK = [Math.min(least, moveK), Math.max(most, moveK)]
      } else if (before.kind !== 'none') lost++
    }
    onDone(i + 1)
  }
  return { kept, left, lost, movedK }
}
