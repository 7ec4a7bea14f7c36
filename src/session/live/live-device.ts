/** Which camera a live picture comes from: browsers name the video device, not the phone. */
import type { LeakTest } from '../../estimate/leak-test.ts'
import type { Log } from '../../log/schema/types.ts'
import { changeCamera } from '../kit/camera-store.ts'
import type { KitModel } from '../kit/kit-model.ts'

/** The device that a live camera was said to belong to; empty where nobody has said it. */
export const deviceOfLive = ({ cameras }: Pick<KitModel, 'cameras'>, liveId: string): string =>
  cameras.value.find(({ data }) => data.liveIds.includes(liveId))?.data.device ?? ''

/** Tests of the infrared filter of the camera that a live picture comes from. */
export const leakTestsOfLive = (
  { cameras }: Pick<KitModel, 'cameras'>,
  liveId: string,
): readonly LeakTest[] =>
  cameras.value.find(({ data }) => data.liveIds.includes(liveId))?.data.leakTests ?? []

/** Live ids kept of one device at most; a new one takes the place of the oldest. */
const MOST_IDS = 20

/**
 * Puts a live camera to a device, and takes it from the one that it was said of before: its readings,
 * curves and known heats then stand with the device's photos.
 *
 * @param device made where the kit has none of this name
 * @throws LogError
 */
export async function joinLive(
  log: Log,
  { cameras }: Pick<KitModel, 'cameras'>,
  liveId: string,
  device: string,
  now: Date,
): Promise<void> {
  const known = cameras.peek().map(({ data }) => data)
  for (const other of known) {
    if (other.device === device || !other.liveIds.includes(liveId)) continue
    const liveIds = other.liveIds.filter((id) => id !== liveId)
    await changeCamera(log, other.device, { liveIds }, now)
  }
  if (device === '') return
  const before = known.find((one) => one.device === device)
  const liveIds = [...(before?.liveIds ?? []).filter((id) => id !== liveId), liveId]
  const named = before === undefined ? { named: true } : {}
  await changeCamera(
    log,
    device,
    { ...named, liveIds: liveIds.slice(-MOST_IDS), usedAt: now.toISOString() },
    now,
  )
}
