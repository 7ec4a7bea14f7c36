/** The cameras of a kit: known heats that speak about one and the same state of one camera. */
import { sameBalance } from '../../estimate/camera-model.ts'
import type { BalanceState } from '../../estimate/types.ts'
import type { Channels } from '../../light/image.ts'
import type { StoredGrey, StoredHeat } from './stored-items.ts'

export interface CameraState {
  readonly key: string
  readonly channels: Channels
  readonly balanceState: BalanceState
  /** Newest first; used and switched off. */
  readonly heats: readonly StoredHeat[]
}

export interface Camera {
  readonly id: string
  readonly states: readonly CameraState[]
  /** Grey references taken with it. */
  readonly greys: number
}

export function camerasOf(heats: readonly StoredHeat[], greys: readonly StoredGrey[]): Camera[] {
  const cameras = new Map<
    string,
    { states: { first: StoredHeat; heats: StoredHeat[] }[]; greys: number }
  >()
  const cameraOf = (id: string) => {
    const found = cameras.get(id) ?? { states: [], greys: 0 }
    cameras.set(id, found)
    return found
  }
  for (const heat of heats) {
    const { cameraId, channels, balanceState } = heat.reference
    const { states } = cameraOf(cameraId)
    const state = states.find(
      ({ first: { reference } }) =>
        reference.channels === channels && sameBalance(reference.balanceState, balanceState),
    )
    if (state) state.heats.push(heat)
    else states.push({ first: heat, heats: [heat] })
  }
  for (const { cameraId } of greys) if (cameraId !== null) cameraOf(cameraId).greys++
  return [...cameras].map(([id, camera]) => ({
    id,
    greys: camera.greys,
    states: camera.states.map(({ first, heats: of }) => ({
      key: `${id} ${first.item.id}`,
      channels: first.reference.channels,
      balanceState: first.reference.balanceState,
      heats: of,
    })),
  }))
}
