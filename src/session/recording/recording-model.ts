import { batch, computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { type Course, courseAtEnd, type Peak, peakOf } from '../../estimate/recording/course.ts'
import {
  type Duration,
  type Passage,
  passage,
  timeAbove,
} from '../../estimate/recording/crossings.ts'
import {
  commonUncertaintyAt,
  type HeatCurve,
  readingsOf,
} from '../../estimate/recording/heat-curve.ts'
import { fitLaws, type LawFit } from '../../estimate/recording/laws.ts'
import { meaningsOf, type PlateauMeaning } from '../../estimate/recording/plateau-meaning.ts'
import type { Plateau } from '../../estimate/recording/plateaus.ts'
import { type Slope, slopeAt, slopeBetween } from '../../estimate/recording/slope.ts'
import type { RecordingChanges, RecordingHead } from '../../log/recordings/recording-schema.ts'
import type { StoredRecording } from '../../log/recordings/types.ts'
import type { Log } from '../../log/schema/types.ts'
import { type CurveBench, openCurveBench } from '../../sources/recording/curve-client.ts'
import { curveOf } from './curve-of.ts'
import {
  type PlateauReference,
  plateauKitItem,
  plateauReference,
  type ReferenceObstacle,
} from './plateau-reference.ts'
import { type RecordingDetails, storedDetails } from './recording-details.ts'

/** A place on the curve. */
export interface CurvePlace {
  readonly seconds: number
  readonly slope: Slope | null
}

export interface PlateauOffer {
  readonly plateau: Plateau
  readonly meanings: readonly PlateauMeaning[]
  /** What it would be as a known heat, if it was this; null for a table without pictures. */
  reference(meaning: PlateauMeaning): PlateauReference | ReferenceObstacle | null
}

/** A part of the curve, s. */
export interface Stretch {
  readonly from: number
  readonly to: number
}

/** Surroundings of a body that cools, K: a room. */
const ROOM_K = 293.15
/** The last part that says whether it is steady: a quarter, at most two minutes. */
const END = { share: 0.25, seconds: 120 }

export interface RecordingModel {
  /** Null until it was read; undefined where there is none. */
  readonly stored: ReadonlySignal<StoredRecording | null | undefined>
  readonly failure: ReadonlySignal<unknown>
  readonly curve: ReadonlySignal<HeatCurve | null>
  readonly details: ReadonlySignal<RecordingDetails>
  /** Null while they are looked for. */
  readonly plateaus: ReadonlySignal<readonly PlateauOffer[] | null>
  readonly peak: ReadonlySignal<Peak | null>
  readonly course: ReadonlySignal<Course | null>
  readonly cursor: Signal<number | null>
  readonly place: ReadonlySignal<CurvePlace | null>
  readonly stretch: Signal<Stretch | null>
  readonly stretchSlope: ReadonlySignal<Slope | null>
  readonly laws: ReadonlySignal<readonly LawFit[]>
  readonly levels: Signal<{ readonly fromK: number | null; readonly toK: number | null }>
  readonly passage: ReadonlySignal<Passage | null>
  readonly above: ReadonlySignal<Duration | null>
  /** Standard uncertainty of a plateau's level: its own, and what shifts the whole curve, K. */
  uncertaintyAt(plateau: Plateau): number
  change(changes: RecordingChanges): Promise<void>
  /** Puts the plateau into the kit as a known heat of the camera; its id. */
  keepReference(offer: PlateauOffer, meaning: PlateauMeaning): Promise<string | null>
  dispose(): void
}

export function createRecordingModel(
  log: Promise<Log>,
  id: string,
  bench: CurveBench = openCurveBench(),
): RecordingModel {
  const stored = signal<StoredRecording | null | undefined>(null)
  const failure = signal<unknown>(null)
  const plateaus = signal<readonly PlateauOffer[] | null>(null)
  const cursor = signal<number | null>(null)
  const stretch = signal<Stretch | null>(null)
  const levels = signal<{ fromK: number | null; toK: number | null }>({ fromK: null, toK: null })
  let disposed = false

  const curve = computed(() => (stored.value ? curveOf(stored.value.columns) : null))
  const details = computed(() => storedDetails(stored.value?.details ?? null))
  const whole = computed<Stretch>(() => ({ from: 0, to: stored.value?.head.durationSeconds ?? 0 }))
  const within = computed(() => stretch.value ?? whole.value)

  const find = async ({ head, columns }: StoredRecording) => {
    const of = curveOf(columns)
    const { seconds, temperatureK } = readingsOf(of)
    const found = await bench.plateaus({ seconds, temperatureK })
    if (disposed) return
    const { looks } = storedDetails(stored.peek()?.details ?? null)
    plateaus.value = found.map((plateau) => {
      const meanings = meaningsOf(plateau, commonUncertaintyAt(of, plateau.levelK))
      return {
        plateau,
        meanings,
        reference: (meaning: PlateauMeaning) =>
          head.source === 'table' ? null : plateauReference(plateau, meaning, columns, looks),
      }
    })
  }
  const read = async () => {
    const found = await (await log).recordings.get(id)
    if (disposed) return
    stored.value = found
    if (found) await find(found)
  }
  read().catch((error: unknown) => {
    if (!disposed) failure.value = error
  })

  return {
    stored,
    failure,
    curve,
    details,
    plateaus,
    peak: computed(() => curve.value && peakOf(curve.value)),
    course: computed(() => {
      const span = Math.min(END.seconds, END.share * whole.value.to)
      return curve.value && courseAtEnd(curve.value, span)
    }),
    cursor,
    place: computed(() => {
      const [at, of] = [cursor.value, curve.value]
      return at === null || !of ? null : { seconds: at, slope: slopeAt(of, at) }
    }),
    stretch,
    stretchSlope: computed(
      () => curve.value && slopeBetween(curve.value, within.value.from, within.value.to),
    ),
    laws: computed(() =>
      curve.value ? fitLaws(curve.value, within.value.from, within.value.to, ROOM_K) : [],
    ),
    levels,
    passage: computed(() => {
      const { fromK, toK } = levels.value
      if (!curve.value || fromK === null || toK === null || fromK === toK) return null
      return passage(curve.value, fromK, toK)
    }),
    above: computed(() => {
      const { fromK } = levels.value
      return curve.value && fromK !== null ? timeAbove(curve.value, fromK) : null
    }),
    uncertaintyAt({ levelK, levelUncertaintyK }) {
      const common = curve.value ? commonUncertaintyAt(curve.value, levelK) : 0
      return Math.hypot(levelUncertaintyK, common || 0)
    },
    async change(changes) {
      const head: RecordingHead = await (await log).recordings.change(id, changes)
      const now = stored.peek()
      if (now && !disposed) stored.value = { ...now, head }
    },
    async keepReference(offer, meaning) {
      const now = stored.peek()
      const reference = offer.reference(meaning)
      if (!now || reference === null || typeof reference === 'string') return null
      const item = await (await log).kit.add(plateauKitItem(reference, meaning, now.head))
      return item.id
    },
    dispose() {
      batch(() => {
        disposed = true
      })
      bench.close()
    },
  }
}
