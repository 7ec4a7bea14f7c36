/** Writes what the person says of a camera into the kit. */
import * as v from 'valibot'
import type { BalanceState } from '../../estimate/types.ts'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, Log } from '../../log/schema/types.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import { type CameraData, cameraData } from './camera-data.ts'
import type { KitModel } from './kit-model.ts'

/** Two photos at once must not make two entries: one write after the other. */
let writing: Promise<unknown> = Promise.resolve()

/**
 * Changes what is stored of a device; makes its entry where there is none.
 *
 * @throws LogError
 */
export function changeCamera(
  log: Log,
  device: string,
  changes: Partial<CameraData>,
  now: Date,
): Promise<void> {
  const work = writing.then(async () => {
    const { items } = await log.kit.list('camera')
    for (const item of items) {
      const parsed = v.safeParse(cameraData, item.data)
      if (!parsed.success || parsed.output.device !== device) continue
      const data = { ...parsed.output, ...changes }
      if (JSON.stringify(data) === JSON.stringify(item.data)) return
      await log.kit.change(item.id, { data: data as unknown as Json })
      return
    }
    const data = { ...v.parse(cameraData, { device }), ...changes }
    await log.kit.add({
      kind: 'camera',
      name: device,
      date: momentOf(now, deviceZone()),
      cameraId: device,
      data: data as unknown as Json,
    })
  })
  writing = work.catch(() => undefined)
  return work
}

export const isLock = ({ kind }: BalanceState): boolean =>
  kind === 'daylight' || kind === 'lamp' || kind === 'locked'

type LockFacts = Pick<PhotoFacts, 'exposureProgram' | 'software' | 'lens'>

/**
 * Keeps a lock for a camera, with what the file says of the camera's state: what contradicts it later
 * is seen. A balance that is free is no lock and changes nothing.
 *
 * @throws LogError
 */
export async function rememberLock(
  log: Log,
  device: string,
  { exposureProgram, software, lens }: LockFacts,
  state: BalanceState,
  now: Date,
): Promise<void> {
  const since = now.toISOString()
  const facts = { exposureProgram, software, lens }
  const lock = isLock(state) ? { lock: { kind: 'locked' as const, state, since, facts } } : {}
  await changeCamera(log, device, { ...lock, usedAt: since }, now)
}

/** The camera used last; undefined where none was. */
export function lastCamera({ cameras }: Pick<KitModel, 'cameras'>) {
  return [...cameras.value].sort((a, b) => b.data.usedAt.localeCompare(a.data.usedAt))[0]
}
