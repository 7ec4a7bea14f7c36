import { batch, computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { CAMERA_LEVEL } from '../../colour/heat-view.ts'
import { type LookTable, lookingAt } from '../../estimate/camera-look.ts'
import type { BalanceState } from '../../estimate/types.ts'
import { inSlices } from '../in-slices.ts'
import { type CameraState, camerasOf } from '../kit/cameras.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { surfaceOf } from '../reading/glow-input.ts'

/** A camera of the kit in one white-balance state, with known heats that are used. */
export interface KnownCamera {
  readonly key: string
  readonly cameraId: string
  readonly balanceState: BalanceState
  readonly heats: CameraState['heats']
}

/** What the view of a camera rests on. */
export interface ChartLook {
  readonly table: LookTable
  /** Empty for a typical camera. */
  readonly cameraId: string
  readonly balanceState: BalanceState
  /** Names of the known heats that count; none: it looks as a typical camera's photo does. */
  readonly heats: readonly string[]
}

/** A camera that runs beside the chart. */
export type LiveState = Pick<ChartLook, 'cameraId' | 'balanceState'>

export interface LookModel {
  /** Newest first; empty while the kit is read. */
  readonly cameras: ReadonlySignal<readonly KnownCamera[]>
  /** Key of the chosen one; null: the first. */
  readonly choice: Signal<string | null>
  readonly camera: ReadonlySignal<KnownCamera | null>
  /** The camera that runs beside the chart goes before the kit's. */
  readonly live: Signal<LiveState | null>
  /** Linear level of red in the picture that is compared with, 0..1. */
  readonly level: Signal<number>
  /** Null until it is worked out; then the former one until the next is. */
  readonly look: ReadonlySignal<ChartLook | null>
  readonly working: ReadonlySignal<boolean>
  dispose(): void
}

/** As most cameras are locked for a glow. */
const TYPICAL: LiveState = {
  cameraId: '',
  balanceState: { kind: 'daylight', colourTemperatureK: null },
}

/**
 * Only ordinary photos: what the camera stores of a glow is its own development, of which its raw
 * pixels say nothing.
 */
export function knownCameras(heats: KitModel['heats']['value']): KnownCamera[] {
  return camerasOf(heats, []).flatMap(({ id, states }) =>
    states.flatMap(({ key, channels, balanceState, heats: all }) => {
      const used = all.filter(({ off }) => !off)
      return channels === 'display-p3' && used.length > 0
        ? [{ key, cameraId: id, balanceState, heats: used }]
        : []
    }),
  )
}

/** @param wanted whether the look is on show: it takes a good part of a second to work out */
export function createLookModel(
  kit: Pick<KitModel, 'heats' | 'state'>,
  materialId: ReadonlySignal<string>,
  wanted: ReadonlySignal<boolean>,
): LookModel {
  const choice = signal<string | null>(null)
  const look = signal<ChartLook | null>(null)
  const working = signal(false)
  const cameras = computed(() => knownCameras(kit.heats.value))
  const camera = computed(
    () => cameras.value.find(({ key }) => key === choice.value) ?? cameras.value[0] ?? null,
  )
  let work = new AbortController()
  const live = signal<LiveState | null>(null)
  const level = signal(CAMERA_LEVEL)
  /** What the last look was worked out for. */
  let done: readonly unknown[] = []
  const stop = effect(() => {
    work.abort()
    working.value = false
    if (!wanted.value || kit.state.value === 'reading') return
    const of: LiveState = live.value ?? camera.value ?? TYPICAL
    const heats = (live.value ? kit.heats.value : (camera.value?.heats ?? [])).filter(
      ({ off }) => !off,
    )
    const material = materialId.value
    const redLevel = level.value
    const now = [of.cameraId, of.balanceState, kit.heats.value, material, redLevel]
    if (now.every((part, i) => part === done[i])) return
    const { cameraId, balanceState } = of
    const references = heats.map(({ reference }) => reference)
    const surface = surfaceOf(material)
    work = new AbortController()
    working.value = true
    void inSlices(
      lookingAt({ cameraId, balanceState, references, surface, redLevel }),
      work.signal,
    ).then((table) => {
      if (!table) return
      const counted = heats.filter(({ item }) => table.referenceIds.includes(item.id))
      batch(() => {
        look.value = {
          table,
          cameraId,
          balanceState,
          heats: counted.map(({ item }) => item.name),
        }
        working.value = false
      })
      done = now
    })
  })
  return {
    cameras,
    choice,
    camera,
    live,
    level,
    look,
    working,
    dispose() {
      work.abort()
      stop()
    },
  }
}
