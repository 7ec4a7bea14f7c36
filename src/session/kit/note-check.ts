import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import type { Log } from '../../log/schema/types.ts'

/** Writes the latest check of a tone curve to its entry in the kit, so that its age is known; rejects where nothing was written. */
export async function noteCheck(
  log: Promise<Log>,
  id: string,
  check: ToneCurveCheck,
  at: string,
): Promise<void> {
  if (check.kind !== 'checked') return
  const { residual, agrees } = check
  const { kit } = await log
  const data = (await kit.get(id))?.data
  if (typeof data !== 'object' || data === null || Array.isArray(data)) return
  await kit.change(id, { data: { ...data, check: { at, residual, agrees } } })
}
