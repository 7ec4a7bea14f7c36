import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { currentInputs, currentResult } from '../../log/schema/reading-schema.ts'
import type { Log, Reading, Term } from '../../log/schema/types.ts'
import { compareResults } from '../../log/statistics/compare.ts'
import { ownUncertaintyK } from '../../log/statistics/shared-terms.ts'
import {
  type ChangeComparison,
  compareSupplyChange,
  type SupplyReading,
} from '../../physics/heat-balance/supply-change.ts'
import { storedGlow } from '../log/stored-glow.ts'
import { askedReading } from './asked-reading.ts'

export interface ChangeModel {
  readonly objects: ReadonlySignal<readonly Term[] | null>
  readonly object: Signal<string>
  readonly quantity: Signal<'volts' | 'watts'>
  readonly law: Signal<'heater' | 'lamp'>
  /** Readings of the object with that supply, oldest first. */
  readonly readings: ReadonlySignal<readonly Reading[]>
  readonly comparison: ReadonlySignal<ChangeComparison | null>
  readonly failure: ReadonlySignal<unknown>
  choose(object: string): void
}

const ROOM_K = 293
/** Share of convection at glowing heat: common practice 0.1 to 0.4. */
const CONVECTION = { value: 0.2, standardUncertainty: 0.1 }
/** Meters of a workshop, as a share of the reading. */
const METER = 0.01
const MOST = 40

/** @param readingId a reading of the log, or the open one, with whose object it starts */
export function createChangeModel(log: Promise<Log>, readingId = ''): ChangeModel {
  const objects = signal<readonly Term[] | null>(null)
  const object = signal('')
  const quantity = signal<'volts' | 'watts'>('watts')
  const law = signal<'heater' | 'lamp'>('heater')
  const all = signal<readonly Reading[]>([])
  const failure = signal<unknown>(null)
  let opened: Log | undefined

  const read = async (name: string) => {
    object.value = name
    if (!opened || !name) return
    const view = await opened.find({ object: name })
    const stored = await Promise.all(view.ids(0, MOST).map((id) => opened?.get(id)))
    if (object.peek() !== name) return
    all.value = stored
      .flatMap((found) => (found?.state === 'sound' ? [found.reading] : []))
      .filter(({ method }) => method !== 'supply' && method !== 'combined')
      .reverse()
  }
  const fail = (error: unknown) => {
    failure.value = error
  }
  log
    .then(async (it) => {
      opened = it
      const found = (await it.vocabulary()).objects
      objects.value = found
      const about = (await askedReading(it, readingId))?.object
      const first = found.find(({ text }) => text === about) ?? found[0]
      await read(first?.text ?? '')
    })
    .catch(fail)

  /** Standard uncertainty of each reading's difference to the first, K, by id. */
  const joint = signal<ReadonlyMap<string, number>>(new Map())
  const readings = computed(() =>
    all.value.filter(
      (reading) =>
        (reading.supply?.[quantity.value] ?? 0) > 0 &&
        currentResult(reading).kind === 'temperature',
    ),
  )
  /** From the joint posterior; until it is there, or where there is none, by what the budgets share. */
  const jointOf = (reading: Reading, wholeK: number) => {
    const [first] = readings.value
    if (!first) return {}
    const known =
      reading === first
        ? wholeK
        : (joint.value.get(reading.id) ??
          compareResults(currentResult(first), currentResult(reading)).standardUncertaintyK)
    return known === null ? {} : { jointUncertaintyK: known }
  }
  effect(() => {
    const [first, ...later] = readings.value
    joint.value = new Map()
    if (first)
      jointUncertainties(first, later).then((found) => {
        if (readings.peek()[0] === first) joint.value = found
      }, fail)
  })
  return {
    objects,
    object,
    quantity,
    law,
    readings,
    failure,
    comparison: computed(() => {
      const list = readings.value.flatMap((reading): SupplyReading[] => {
        const value = reading.supply?.[quantity.value] ?? 0
        const result = currentResult(reading)
        if (result.kind !== 'temperature') return []
        return [
          {
            temperatureK: result.temperatureK,
            ownUncertaintyK: ownUncertaintyK(result),
            ...jointOf(reading, result.standardUncertaintyK),
            supply: { value, standardUncertainty: METER * value },
          },
        ]
      })
      if (list.length < 2) return null
      return compareSupplyChange(
        list,
        quantity.value,
        law.value === 'lamp'
          ? { kind: 'lamp' }
          : { kind: 'heater', roomK: ROOM_K, convectionShare: CONVECTION },
      )
    }),
    choose: (name) => void read(name).catch(fail),
  }
}

/** Readings whose difference is worked out; more take a phone seconds. */
const MOST_JOINT = 12

/** Differences to the first reading from the joint posterior of their camera. */
async function jointUncertainties(
  first: Reading,
  later: readonly Reading[],
): Promise<ReadonlyMap<string, number>> {
  const found = new Map<string, number>()
  const from = storedGlow(currentInputs(first))
  if (from === null || later.length === 0) return found
  const { ofOnePiece, temperatureDifference } = await import('../../estimate/difference.ts')
  for (const reading of later.slice(0, MOST_JOINT)) {
    const input = storedGlow(currentInputs(reading))
    const difference = input && temperatureDifference(ofOnePiece(from), ofOnePiece(input))
    if (difference) found.set(reading.id, difference.standardUncertaintyK)
  }
  return found
}
