import { type ReadonlySignal, signal } from '@preact/signals'
import type { GreyBalance, KnownHeatReference } from '../../estimate/types.ts'
import type { KitItem, Log } from '../../log/types.ts'

/** The kit as the reading uses it. */
export interface KeptGrey {
  readonly id: string
  readonly name: string
  readonly balance: GreyBalance
  readonly cameraId: string | null
}

export interface KitModel {
  readonly items: ReadonlySignal<readonly KitItem[]>
  readonly greys: ReadonlySignal<readonly KeptGrey[]>
  readonly references: ReadonlySignal<readonly KnownHeatReference[]>
  dispose(): void
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

function greyOf(item: KitItem): KeptGrey | null {
  const { data } = item
  if (item.kind !== 'grey reference' || !isObject(data) || !isObject(data.balance)) return null
  const balance = { ...(data.balance as unknown as GreyBalance), id: item.id }
  return { id: item.id, name: item.name, balance, cameraId: item.cameraId }
}

function referenceOf(item: KitItem): KnownHeatReference | null {
  const { data } = item
  if (item.kind !== 'known heat' || !isObject(data) || !isObject(data.reference)) return null
  return { ...(data.reference as unknown as KnownHeatReference), id: item.id, name: item.name }
}

const present = <T>(value: T | null): value is T => value !== null

/** Follows the kit in the log. */
export function createKitModel(log: Promise<Log>): KitModel {
  const items = signal<readonly KitItem[]>([])
  const greys = signal<readonly KeptGrey[]>([])
  const references = signal<readonly KnownHeatReference[]>([])
  let stop: (() => void) | undefined
  let disposed = false
  log.then(
    async (opened) => {
      const read = async () => {
        const { items: found } = await opened.kit.list()
        if (disposed) return
        items.value = found
        greys.value = found.map(greyOf).filter(present)
        references.value = found.map(referenceOf).filter(present)
      }
      if (disposed) return
      stop = opened.subscribe((change) => {
        if (change.kind === 'kit' || change.kind === 'everything') void read()
      })
      await read()
    },
    // Without storage there is no kit; the screens that save say why.
    () => undefined,
  )
  return {
    items,
    greys,
    references,
    dispose() {
      disposed = true
      stop?.()
    },
  }
}
