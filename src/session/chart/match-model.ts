import { batch, computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { CAMERA_LEVEL, type HeatView } from '../../colour/heat-view.ts'
import {
  EYE_METHOD_VERSION,
  type EyeMatch,
  eyeMatch,
  lookUncertaintyK,
  SCREEN_SPREAD_K,
} from '../../estimate/eye-match.ts'
import type { NewReading } from '../../log/schema/types.ts'
import { symmetricResult } from '../../log/statistics/symmetric-result.ts'
import type { LiveBeside } from '../live/live-beside.ts'
import type { ChartModel } from './chart-model.ts'
import type { ChartLook } from './look-model.ts'

/** What is held against the chart. */
export type Beside =
  | { readonly kind: 'piece' }
  | { readonly kind: 'photo'; readonly url: string; readonly simulated: boolean }
  | { readonly kind: 'live'; readonly live: LiveBeside }

export type MatchStep = 'from hotter' | 'from colder' | 'done'

export interface MatchModel {
  /** Null: no match is going on. */
  readonly beside: ReadonlySignal<Beside | null>
  readonly step: ReadonlySignal<MatchStep>
  readonly result: ReadonlySignal<EyeMatch | null>
  readonly object: Signal<string>
  /** What is beside is made up by the app: the reading is for practice. */
  readonly simulated: ReadonlySignal<boolean>
  begin(beside: Beside): void
  /** A camera that came back: the bracket goes on. */
  resume(live: LiveBeside): void
  agree(): void
  again(): void
  close(): void
  /** A match as the log keeps it; null before its end. */
  record(): NewReading | null
  dispose(): void
}

/** How far from where the pointer stands a bracket begins, K. */
const START_K = 200

/** Bracket twice, from hotter and from colder: an estimate of its own, never mixed with measured ones. */
export function createMatchModel(chart: ChartModel): MatchModel {
  const beside = signal<Beside | null>(null)
  const step = signal<MatchStep>('from hotter')
  const hotterK = signal(0)
  const colderK = signal(0)
  const object = signal('')
  let view: HeatView['kind'] = 'dark-shop'
  /** The look at the moment of the last agreement: the camera may be let go before the reading is kept. */
  let look: ChartLook | null = null
  const lookK = signal(0)

  const simulated = computed(() => {
    const held = beside.value
    if (held?.kind === 'photo') return held.simulated
    return held?.kind === 'live' && held.live.camera.kind === 'practice'
  })
  const startAt = (byK: number) => {
    const { lowK, highK } = chart.span.peek()
    chart.cursorK.value = Math.min(highK, Math.max(lowK, chart.cursorK.peek() + byK))
  }
  const bracket = () => {
    step.value = 'from hotter'
    startAt(START_K)
  }
  const putAway = () => {
    const held = beside.peek()
    if (held?.kind === 'photo') URL.revokeObjectURL(held.url)
    beside.value = null
    chart.looks.live.value = null
    chart.looks.level.value = CAMERA_LEVEL
  }

  const result = computed(() =>
    step.value === 'done'
      ? eyeMatch(
          hotterK.value,
          colderK.value,
          lookK.value,
          beside.value?.kind === 'piece' ? SCREEN_SPREAD_K : 0,
        )
      : null,
  )

  return {
    beside,
    step,
    object,
    simulated,
    result,
    begin: (next) =>
      batch(() => {
        if (!beside.peek()) view = chart.viewKind.peek()
        putAway()
        beside.value = next
        // Like for like: pictures by what a camera stores of a glow, the piece by what an eye sees.
        if (next.kind !== 'piece') chart.viewKind.value = 'camera'
        else chart.viewKind.value = view === 'camera' ? 'dark-shop' : view
        bracket()
      }),
    resume(live) {
      beside.value = { kind: 'live', live }
    },
    agree: () =>
      batch(() => {
        if (step.peek() === 'from hotter') {
          hotterK.value = chart.cursorK.peek()
          step.value = 'from colder'
          startAt(-START_K)
          return
        }
        colderK.value = chart.cursorK.peek()
        const middleK = (hotterK.peek() + colderK.peek()) / 2
        look = chart.viewKind.peek() === 'camera' ? chart.looks.look.peek() : null
        lookK.value = lookUncertaintyK(middleK, chart.rangeAt(middleK))
        step.value = 'done'
      }),
    again: bracket,
    close: () =>
      batch(() => {
        putAway()
        chart.viewKind.value = view
      }),
    record() {
      const held = beside.peek()
      const match = result.peek()
      if (!held || !match) return null
      const budget = [
        { term: 'bracket', contributionK: match.bracketUncertaintyK, sharedBy: null },
        { term: 'naming charts', contributionK: match.chartUncertaintyK, sharedBy: 'eye' },
        ...(match.screenUncertaintyK > 0
          ? [{ term: 'screen', contributionK: match.screenUncertaintyK, sharedBy: 'screen' }]
          : []),
        ...(look
          ? [{ term: 'camera', contributionK: match.lookUncertaintyK, sharedBy: sharedBy(look) }]
          : []),
      ]
      return {
        method: 'by eye',
        simulated: simulated.peek(),
        object: object.peek().trim(),
        notes: simulated.peek() ? 'Simulated: practice.' : '',
        material: chart.materialId.peek(),
        result: symmetricResult(
          match.temperatureK,
          match.standardUncertaintyK,
          budget,
          EYE_METHOD_VERSION,
        ),
        inputs: {
          beside: held.kind,
          fromHotterK: hotterK.peek(),
          fromColderK: colderK.peek(),
          view: chart.viewKind.peek(),
          room: chart.room.peek(),
          camera: look?.cameraId ?? null,
          redLevel: look ? chart.looks.level.peek() : null,
          knownHeats: [...(look?.table.referenceIds ?? [])],
        },
      }
    },
    dispose: putAway,
  }
}

/** The camera errs in a reading of its photo as it does in its swatch. */
const sharedBy = ({ cameraId, balanceState }: ChartLook) =>
  `camera ${cameraId} display-p3 ${balanceState.kind}`
