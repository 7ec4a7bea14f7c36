import { batch, type ReadonlySignal, signal } from '@preact/signals'
import type { KnownHeatReference } from '../../estimate/types.ts'
import type { KitItem, Log } from '../../log/schema/types.ts'
import type {
  EarlierCurve,
  StoredCamera,
  StoredCurve,
  StoredGrey,
  StoredHeat,
  StoredLamp,
  StoredResponse,
  UnreadableItem,
} from './stored-items.ts'

export interface KitModel {
  readonly items: ReadonlySignal<readonly KitItem[]>
  /** What the person has said of each device. */
  readonly cameras: ReadonlySignal<readonly StoredCamera[]>
  readonly greys: ReadonlySignal<readonly StoredGrey[]>
  /** All known heats, used or switched off. */
  readonly heats: ReadonlySignal<readonly StoredHeat[]>
  /** Those that are used. */
  readonly references: ReadonlySignal<readonly KnownHeatReference[]>
  readonly lamps: ReadonlySignal<readonly StoredLamp[]>
  readonly curves: ReadonlySignal<readonly StoredCurve[]>
  /** Newest first. */
  readonly responses: ReadonlySignal<readonly StoredResponse[]>
  readonly earlierCurves: ReadonlySignal<readonly EarlierCurve[]>
  /** Items whose content this version cannot use, by name; they are kept as they are. */
  readonly unreadable: ReadonlySignal<readonly UnreadableItem[]>
  /** Null until the kit was read; then whether it could be. */
  readonly state: ReadonlySignal<'reading' | 'read' | { readonly failed: unknown }>
  dispose(): void
}

/** Follows the kit in the log. */
export function createKitModel(log: Promise<Log>): KitModel {
  const items = signal<readonly KitItem[]>([])
  const cameras = signal<readonly StoredCamera[]>([])
  const greys = signal<readonly StoredGrey[]>([])
  const heats = signal<readonly StoredHeat[]>([])
  const references = signal<readonly KnownHeatReference[]>([])
  const lamps = signal<readonly StoredLamp[]>([])
  const curves = signal<readonly StoredCurve[]>([])
  const responses = signal<readonly StoredResponse[]>([])
  const earlierCurves = signal<readonly EarlierCurve[]>([])
  const unreadable = signal<readonly UnreadableItem[]>([])
  const state = signal<'reading' | 'read' | { readonly failed: unknown }>('reading')
  let stop: (() => void) | undefined
  let disposed = false
  let latest = 0

  const follow = async () => {
    const opened = await log
    // Not part of the first page: the schemas come with the log.
    const { sortKit } = await import('./sort-kit.ts')
    if (disposed) return
    const read = async () => {
      const mine = ++latest
      const { items: found, damaged } = await opened.kit.list()
      // A slower answer to an earlier question must not undo a later one.
      if (disposed || mine !== latest) return
      const sorted = sortKit(found)
      batch(() => {
        items.value = found
        cameras.value = sorted.cameras
        greys.value = sorted.greys
        heats.value = sorted.heats
        references.value = sorted.heats.filter(({ off }) => !off).map(({ reference }) => reference)
        lamps.value = sorted.lamps
        curves.value = sorted.curves
        responses.value = sorted.responses
        earlierCurves.value = sorted.earlierCurves
        unreadable.value = [
          ...sorted.unreadable,
          ...damaged.map(({ id, where }) => ({ id, name: 'Damaged item', where })),
        ]
        state.value = 'read'
      })
    }
    stop = opened.subscribe((change) => {
      if (change.kind === 'kit' || change.kind === 'everything') {
        read().catch((error: unknown) => {
          state.value = { failed: error }
        })
      }
    })
    await read()
  }
  // Without storage there is no kit; the screens that save say why.
  follow().catch((error: unknown) => {
    if (!disposed) state.value = { failed: error }
  })
  return {
    items,
    cameras,
    greys,
    heats,
    references,
    lamps,
    curves,
    responses,
    earlierCurves,
    unreadable,
    state,
    dispose() {
      disposed = true
      stop?.()
    },
  }
}
