import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import {
  type CombinedOpinions,
  combineOpinions,
  type Opinion,
  type OpinionRefusal,
} from '../../estimate/opinions.ts'
import type { Log, Reading, Term } from '../../log/schema/types.ts'
import { opinionOf } from './estimate-of.ts'

/** One row of the axis. */
export interface AxisRow {
  readonly reading: Reading
  readonly opinion: Opinion
  readonly standardUncertaintyK: number
  readonly included: boolean
}

export interface AxisModel {
  /** Objects of the log, most frequent first; null until they are there. */
  readonly objects: ReadonlySignal<readonly Term[] | null>
  readonly object: Signal<string>
  readonly rows: ReadonlySignal<readonly AxisRow[]>
  readonly combined: ReadonlySignal<CombinedOpinions | OpinionRefusal | null>
  readonly failure: ReadonlySignal<unknown>
  toggle(id: string): void
  dispose(): void
}

/** More opinions than this are no picture any more. */
const MOST = 12
/** Readings this close to the newest one are taken as of one heat; common practice. */
const SAME_HEAT_MS = 3_600_000

export function createAxisModel(log: Promise<Log>, first = ''): AxisModel {
  const objects = signal<readonly Term[] | null>(null)
  const object = signal(first)
  const readings = signal<readonly Reading[]>([])
  /** Rows that a person ticked or unticked against what is done by itself. */
  const turned = signal<ReadonlySet<string>>(new Set())
  const failure = signal<unknown>(null)
  let opened: Log | undefined
  let unsubscribe: (() => void) | undefined
  let disposed = false
  let asked = 0

  const read = async (name: string) => {
    const mine = ++asked
    if (!opened || !name) {
      readings.value = []
      return
    }
    const view = await opened.find({ object: name })
    const stored = await Promise.all(view.ids(0, MOST).map((id) => opened?.get(id)))
    if (mine !== asked || disposed) return
    readings.value = stored.flatMap((found) => (found?.state === 'sound' ? [found.reading] : []))
  }
  const fail = (error: unknown) => {
    if (!disposed) failure.value = error
  }
  const stop = effect(() => {
    const name = object.value
    turned.value = new Set()
    read(name).catch(fail)
  })
  log
    .then(async (it) => {
      if (disposed) return
      opened = it
      unsubscribe = it.subscribe((change) => {
        if (change.kind === 'readings' || change.kind === 'everything')
          read(object.peek()).catch(fail)
      })
      const found = (await it.vocabulary()).objects
      objects.value = found
      const [most] = found
      if (!object.peek() && most) object.value = most.text
      else await read(object.peek())
    })
    .catch(fail)

  const rows = computed(() => {
    const all = readings.value.flatMap((reading) => {
      const opinion = opinionOf(reading)
      return opinion ? [{ reading, opinion, atMs: Date.parse(reading.takenAt.iso) }] : []
    })
    // Readings of another heat are no opinions on this one.
    const newestMs = Math.max(...all.map(({ atMs }) => atMs))
    return all.map(({ reading, opinion, atMs }): AxisRow => {
      const squares = new Map<string, number>()
      for (const { id, effectK } of opinion.terms) squares.set(id, (squares.get(id) ?? 0) + effectK)
      const standardUncertaintyK = Math.hypot(...squares.values())
      const sameHeat = newestMs - atMs <= SAME_HEAT_MS
      const included = sameHeat !== turned.value.has(reading.id)
      return { reading, opinion, standardUncertaintyK, included }
    })
  })
  return {
    objects,
    object,
    rows,
    failure,
    combined: computed(() => {
      const chosen = rows.value.filter(({ included }) => included)
      return chosen.length === 0 ? null : combineOpinions(chosen.map(({ opinion }) => opinion))
    }),
    toggle(id) {
      const next = new Set(turned.value)
      if (!next.delete(id)) next.add(id)
      turned.value = next
    },
    dispose() {
      disposed = true
      stop()
      unsubscribe?.()
    },
  }
}
