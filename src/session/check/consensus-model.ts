import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { type Consensus, type ConsensusRefusal, consensus } from '../../estimate/consensus.ts'
import type { Filter, Log, Reading, Term } from '../../log/schema/types.ts'
import { OPEN } from '../carried-reading.ts'
import { askedReading } from './asked-reading.ts'
import { type Representative, representatives, SAME_HEAT_MS } from './representatives.ts'

/** One row of the comparison. */
export interface ConsensusRow extends Representative {
  readonly included: boolean
}

export interface ConsensusModel {
  /** Objects of the log, most frequent first; null until they are there. */
  readonly objects: ReadonlySignal<readonly Term[] | null>
  readonly object: Signal<string>
  /** The reading that is asked about; null when none was named. */
  readonly asked: ReadonlySignal<Reading | null>
  readonly rows: ReadonlySignal<readonly ConsensusRow[]>
  readonly consensus: ReadonlySignal<Consensus | ConsensusRefusal | null>
  readonly failure: ReadonlySignal<unknown>
  toggle(id: string): void
  dispose(): void
}

/** Readings that are looked through, and rows that are shown. */
const LOOKED_THROUGH = 200
const MOST_ROWS = 12

/** @param readingId a reading of the log, or the open one, to start with: its object, its moment */
export function createConsensusModel(log: Promise<Log>, readingId = ''): ConsensusModel {
  const objects = signal<readonly Term[] | null>(null)
  const object = signal('')
  const asked = signal<Reading | null>(null)
  const readings = signal<readonly Reading[]>([])
  /** Rows that a person ticked or unticked against what is done by itself. */
  const turned = signal<ReadonlySet<string>>(new Set())
  const failure = signal<unknown>(null)
  let opened: Log | undefined
  let unsubscribe: (() => void) | undefined
  let disposed = false
  let reads = 0

  const read = async (name: string) => {
    const mine = ++reads
    const about = asked.peek()
    if (!opened || (!name && !about)) {
      readings.value = []
      return
    }
    const atMs = about ? Date.parse(about.takenAt.iso) : 0
    const near = { fromMs: atMs - SAME_HEAT_MS, toMs: atMs + SAME_HEAT_MS }
    const filter: Filter = name ? { object: name } : near
    const ids = (await opened.find(filter)).ids(0, LOOKED_THROUGH)
    const stored = about !== null && about.id !== OPEN
    if (stored && !ids.includes(about.id)) ids.push(about.id)
    const heads = await opened.heads(ids)
    if (about?.id === OPEN) heads.push(about)
    if (mine !== reads || disposed) return
    // Without a name only what is nameless too can be the same piece.
    readings.value = heads.filter((one) => name !== '' || one.object === '')
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
      const found = await askedReading(it, readingId)
      if (disposed) return
      asked.value = found
      const vocabulary = (await it.vocabulary()).objects
      objects.value = vocabulary
      const first = asked.peek() ? asked.peek()?.object : vocabulary[0]?.text
      if (first && first !== object.peek()) object.value = first
      else await read(object.peek())
    })
    .catch(fail)

  const rows = computed(() => {
    const all = representatives(readings.value)
    const about = asked.value
    const isAsked = ({ ids }: Representative) => about !== null && ids.includes(about.id)
    const newestMs = Math.max(...all.map((row) => row.newestMs))
    const askedMs = about && all.some(isAsked) ? Date.parse(about.takenAt.iso) : newestMs
    const near = all.filter((row) => isAsked(row) || row.newestMs - askedMs <= SAME_HEAT_MS)
    return near.slice(0, MOST_ROWS).map((row): ConsensusRow => {
      // Readings of another heat, or of one that moved, are no evidence on this one.
      const sameHeat = Math.abs(askedMs - row.newestMs) <= SAME_HEAT_MS && !row.changing
      const included = (isAsked(row) || sameHeat) !== turned.value.has(row.reading.id)
      return { ...row, included }
    })
  })
  return {
    objects,
    object,
    asked,
    rows,
    failure,
    consensus: computed(() => {
      const chosen = rows.value.filter(({ included }) => included)
      return chosen.length === 0 ? null : consensus(chosen.map(({ estimate }) => estimate))
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
