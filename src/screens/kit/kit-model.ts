import { batch, type ReadonlySignal, signal } from '@preact/signals'
import * as v from 'valibot'
import type { GreyBalance, KnownHeatReference } from '../../estimate/types.ts'
import type { KitItem, Log } from '../../log/types.ts'
import { greyData, type KnownHeatData, knownHeatData, type LampData, lampData } from './kit-data.ts'

/** A grey reference of the kit, as the reading uses it. */
export interface KeptGrey {
  readonly id: string
  readonly name: string
  readonly balance: GreyBalance
  readonly cameraId: string | null
}

/** A known heat of the kit; switched off it is kept but not used. */
export interface KeptHeat {
  readonly item: KitItem
  readonly reference: KnownHeatReference
  readonly off: boolean
  readonly origin: KnownHeatData['origin']
}

export interface KeptLamp {
  readonly item: KitItem
  readonly lamp: LampData
}

export interface KitModel {
  readonly items: ReadonlySignal<readonly KitItem[]>
  readonly greys: ReadonlySignal<readonly KeptGrey[]>
  /** All known heats, used or switched off. */
  readonly heats: ReadonlySignal<readonly KeptHeat[]>
  /** Those that are used. */
  readonly references: ReadonlySignal<readonly KnownHeatReference[]>
  readonly lamps: ReadonlySignal<readonly KeptLamp[]>
  /** Items whose content this version cannot use, by name; they are kept as they are. */
  readonly unreadable: ReadonlySignal<readonly { readonly id: string; readonly name: string }[]>
  /** Null until the kit was read; then whether it could be. */
  readonly state: ReadonlySignal<'reading' | 'read' | { readonly failed: unknown }>
  dispose(): void
}

/** The kit sorted by kind; what does not fit its schema is told apart. */
export function sortKit(items: readonly KitItem[]) {
  const greys: KeptGrey[] = []
  const heats: KeptHeat[] = []
  const lamps: KeptLamp[] = []
  const unreadable: { id: string; name: string }[] = []
  for (const item of items) {
    const { id, name, cameraId, data } = item
    if (item.kind === 'grey reference') {
      const parsed = v.safeParse(greyData, data)
      if (parsed.success) {
        greys.push({ id, name, cameraId, balance: { ...parsed.output.balance, id } })
      } else unreadable.push({ id, name })
    } else if (item.kind === 'known heat') {
      const parsed = v.safeParse(knownHeatData, data)
      if (parsed.success) {
        const { reference, off, origin } = parsed.output
        heats.push({ item, off, origin, reference: { ...reference, id, name } })
      } else unreadable.push({ id, name })
    } else if (item.kind === 'lamp') {
      const parsed = v.safeParse(lampData, data)
      if (parsed.success) lamps.push({ item, lamp: parsed.output })
      else unreadable.push({ id, name })
    }
  }
  return { greys, heats, lamps, unreadable }
}

/** Follows the kit in the log. */
export function createKitModel(log: Promise<Log>): KitModel {
  const items = signal<readonly KitItem[]>([])
  const greys = signal<readonly KeptGrey[]>([])
  const heats = signal<readonly KeptHeat[]>([])
  const references = signal<readonly KnownHeatReference[]>([])
  const lamps = signal<readonly KeptLamp[]>([])
  const unreadable = signal<readonly { readonly id: string; readonly name: string }[]>([])
  const state = signal<'reading' | 'read' | { readonly failed: unknown }>('reading')
  let stop: (() => void) | undefined
  let disposed = false
  let latest = 0

  const follow = async () => {
    const opened = await log
    if (disposed) return
    const read = async () => {
      const mine = ++latest
      const { items: found, damaged } = await opened.kit.list()
      // A slower answer to an earlier question must not undo a later one.
      if (disposed || mine !== latest) return
      const sorted = sortKit(found)
      batch(() => {
        items.value = found
        greys.value = sorted.greys
        heats.value = sorted.heats
        references.value = sorted.heats.filter(({ off }) => !off).map(({ reference }) => reference)
        lamps.value = sorted.lamps
        unreadable.value = [
          ...sorted.unreadable,
          ...damaged.map(({ id }) => ({ id, name: 'Damaged item' })),
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
    greys,
    heats,
    references,
    lamps,
    unreadable,
    state,
    dispose() {
      disposed = true
      stop?.()
    },
  }
}
