import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import type { StoredCurve } from '../kit/stored-items.ts'

/** Photos so near in time to a curve's sweep may be its own, taken again with others. */
const SAME_SWEEP_MS = 10 * 60_000

/**
 * Odds of a curve on each channel that a sweep may count on: what the kept curve's sweep showed of this
 * camera. 1, which says nothing, where the photos contradict that curve, or where they may be those
 * that it was found by.
 *
 * @param takenAt ISO 8601, when the sweep was photographed
 */
export function kindOdds(
  kept: Pick<StoredCurve, 'channelOdds' | 'foundAt'> | null,
  check: ToneCurveCheck | null,
  takenAt: string | null,
): number {
  if (!kept || takenAt === null) return 1
  const apart = Math.abs(Date.parse(takenAt) - Date.parse(kept.foundAt))
  const holds = check?.kind === 'checked' && check.agrees
  return holds && apart > SAME_SWEEP_MS ? kept.channelOdds : 1
}
