import { kindOpen } from '../../light/exposure-sweep/sweep-result.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Moment } from '../../log/schema/fields.ts'
import type { Json, Log } from '../../log/schema/types.ts'
import { cameraIdOf, curveIdOf, takenAtOf } from '../reading/photo-meaning.ts'
import type { ReadingModel } from '../reading/reading-model-type.ts'

/** What a recovered tone curve belongs to. */
export interface CurveOrigin {
  /** Of the sweep, not of keeping it: its age is counted from here. */
  readonly date: Moment
  readonly camera: string
  readonly cameraId: string
  /** The way to the picture that it holds for. */
  readonly curveId: string
  readonly simulated: boolean
}

/** Origin of the curve of the open sweep; null where its photo is gone. */
export function curveOriginOf(
  { glow, simulatedTruthK }: Pick<ReadingModel, 'glow' | 'simulatedTruthK'>,
  now: Date,
): CurveOrigin | null {
  const facts = glow.photo.value?.facts
  if (!facts) return null
  return {
    date: takenAtOf(facts, now),
    camera: facts.model ?? 'this camera',
    cameraId: cameraIdOf(facts),
    curveId: curveIdOf(facts),
    simulated: simulatedTruthK.value !== null,
  }
}

/**
 * Stores a recovered tone curve.
 *
 * @param id of the sweep: readings by the sweep and by the stored curve err together
 * @param channelOdds that the sweep showed; 1 says nothing
 * @throws LogError
 */
export async function storeCurve(
  { kit }: Log,
  id: string,
  curve: ToneCurve,
  { date, camera, cameraId, curveId, simulated }: CurveOrigin,
  channelOdds = 1,
): Promise<void> {
  await kit.add({
    id,
    kind: 'tone curve',
    name: `Tone curve, ${camera}`,
    date,
    cameraId,
    simulated,
    data: { curve, curveId, channelOdds } as unknown as Json,
  })
}

/**
 * Stores the curve that the open photos gave, by a sweep or a raw picture, unless it is stored already or
 * its kind stayed open.
 */
export async function storeFoundCurve(
  log: Log,
  model: Pick<ReadingModel, 'glow' | 'simulatedTruthK' | 'sweep' | 'pair'>,
  now: Date,
): Promise<boolean> {
  const series = model.sweep.peek() ?? model.pair.peek()
  const result = series?.result.peek()
  const origin = curveOriginOf(model, now)
  if (!series || result?.kind !== 'measured' || !origin) return false
  if ('findings' in result && kindOpen(result)) return false
  if ((await log.kit.get(series.id)) !== undefined) return false
  const odds = 'channelOdds' in result ? result.channelOdds : 1
  await storeCurve(log, series.id, result.curve, origin, odds)
  return true
}
