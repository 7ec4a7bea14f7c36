/** What a look at the stream rests on beside its pixels. */
import type { BalanceState } from '../../estimate/types.ts'
import type { Exposure } from '../../physics/brightness.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import type { FrameLookInput } from '../../sources/live/live-operations.ts'
import type { Locks } from '../../sources/live/lock.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { surfaceOf, windowOf } from '../reading/glow-input.ts'
import { UNIT_SECONDS } from './live-controls.ts'
import type { LiveDesk } from './live-desk.ts'
import { leakTestsOfLive } from './live-device.ts'

export function lookSettings(
  camera: Pick<LiveCamera, 'id'>,
  kit: Pick<KitModel, 'references' | 'cameras'>,
  desk: Pick<LiveDesk, 'choices'>,
  balanceState: BalanceState,
): FrameLookInput['settings'] {
  const { materialId, cover } = desk.choices.peek()
  return {
    channels: 'display-p3',
    cameraToXyz: null,
    balanceState,
    surface: surfaceOf(materialId),
    window: windowOf(cover),
    cameraId: camera.id,
    takenAt: null,
    references: kit.references.peek(),
    leakTests: leakTestsOfLive(kit, camera.id),
  }
}

/** A stream does not state its aperture; phones have one, and levels are compared within one stream. */
const APERTURE = 1

/** How the stream is exposed, while that stands still and the camera says it; else null. */
export function streamExposure(
  locks: Pick<Locks, 'exposure'> | null,
  camera: Pick<LiveCamera, 'settings'>,
): Exposure | null {
  if (locks?.exposure !== 'locked') return null
  const { exposureTime, iso } = camera.settings()
  if (!(typeof exposureTime === 'number' && exposureTime > 0)) return null
  if (!(typeof iso === 'number' && iso > 0)) return null
  return { exposureSeconds: exposureTime * UNIT_SECONDS, iso, fNumber: APERTURE }
}
