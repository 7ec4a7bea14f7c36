import type { KnownHeatReference } from '../../estimate/types.ts'
import { currentResult } from '../../log/schema/reading-schema.ts'
import type { Reading } from '../../log/schema/types.ts'
import type { Recomputed } from './recompute.ts'
import { type NotRecomputable, recomputePlan } from './recompute-plan.ts'

/** What computing a reading again comes to. */
export type RecomputeOffer =
  | NotRecomputable
  /** Nothing has changed that could change the figure; it was not computed. */
  | 'no reason'
  | 'same figure'
  | {
      /** As it was, by today's method, surface and cover; null where that is the figure it has. */
      readonly asThen: Recomputed | null
      /** With the known heats of today's kit; null where they make no difference. */
      readonly withKit: Recomputed | null
    }

/**
 * Computes only what has a reason: an estimate takes a phone tenths of a second, and its code comes
 * when it is first needed.
 *
 * @param kit known heats of the kit; simulated light has no camera of the kit
 * @param anyway compute without a reason too, to see that the figure still comes out
 */
export async function recomputeOffer(
  reading: Reading,
  kit: readonly KnownHeatReference[],
  anyway: boolean,
): Promise<RecomputeOffer> {
  const then = recomputePlan(reading, null)
  const now = recomputePlan(reading, reading.simulated ? null : kit)
  if (typeof then === 'string' || typeof now === 'string') return then as NotRecomputable
  const otherHeats = now.reasons.includes('known heats')
  if (!anyway && now.reasons.length === 0) return 'no reason'

  const { recompute, sameFigure } = await import('./recompute.ts')
  const asThen = anyway || then.reasons.length > 0 ? recompute(reading, then) : null
  const withKit = otherHeats ? recompute(reading, now) : null
  const figure = asThen?.result ?? currentResult(reading)
  const kept = {
    asThen: asThen?.differs ? asThen : null,
    withKit: withKit && !sameFigure(withKit.result, figure) ? withKit : null,
  }
  return kept.asThen || kept.withKit ? kept : 'same figure'
}
