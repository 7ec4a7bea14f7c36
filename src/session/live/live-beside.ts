import { effect, type ReadonlySignal, signal } from '@preact/signals'
import type { BalanceState } from '../../estimate/types.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import { type BalanceLock, lockWhiteBalance } from '../../sources/live/lock.ts'
import type { LookModel } from '../chart/look-model.ts'
import { balanceOf } from './live-judgement.ts'
import type { CameraUse } from './use-camera.ts'

/**
 * A live picture beside the chart: only a picture, no temperature comes from it. Its exposure is left
 * to the camera; white balance is what would change its colours.
 */
export interface LiveBeside extends CameraUse {
  readonly locks: ReadonlySignal<BalanceLock | null>
  readonly balanceState: ReadonlySignal<BalanceState>
}

/** The chart shows what this camera stores as it is balanced now, however little that is known. */
export function createLiveBeside(camera: LiveCamera, looks: LookModel): LiveBeside {
  const locks = signal<BalanceLock | null>(null)
  const balanceState = signal<BalanceState>({ kind: 'unknown', colourTemperatureK: null })
  const stop = effect(() => {
    looks.live.value = { cameraId: camera.id, balanceState: balanceState.value }
  })
  return {
    camera,
    locks,
    balanceState,
    async lock() {
      locks.value = await lockWhiteBalance(camera)
      balanceState.value = balanceOf(locks.value, camera)
    },
    dispose() {
      stop()
      looks.live.value = null
      camera.close()
    },
  }
}
