import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { Course, Peak } from '../../estimate/recording/course.ts'
import type { Duration, Passage } from '../../estimate/recording/crossings.ts'
import { commonUncertaintyAt, type HeatCurve } from '../../estimate/recording/heat-curve.ts'
import type { LawFit } from '../../estimate/recording/laws.ts'
import { meaningsOf, type PlateauMeaning } from '../../estimate/recording/plateau-meaning.ts'
import type { Plateau } from '../../estimate/recording/plateaus.ts'
import { heatsWith, scaleByHeats } from '../../estimate/recording/set-by-heats.ts'
import type { Slope } from '../../estimate/recording/slope.ts'
import type { RecordingChanges, RecordingHead } from '../../log/recordings/recording-schema.ts'
import type { StoredRecording } from '../../log/recordings/types.ts'
import type { Log } from '../../log/schema/types.ts'
import { type CurveBench, openCurveBench } from '../../sources/recording/curve-client.ts'
import { curveOf } from './curve-of.ts'
import {
  type PlateauReference,
  plateauHeat,
  plateauKitItem,
  plateauReference,
  type ReferenceObstacle,
} from './plateau-reference.ts'
import { type RecordingDetails, storedDetails } from './recording-details.ts'
import { MOST_HEATS, setByHeat } from './set-recording.ts'

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

export interface CurvePartRead {
  readonly slope: Slope | null
  readonly laws: readonly LawFit[]
}

/** Surroundings of a body that cools, K: a room. */
const ROOM_K = 293.15

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
  /** From now on slope and laws of the stretch are kept up: nobody may want them. */
  askPart(): void
  /** Mean slope and laws of the stretch that it states; null before the first answer. */
  readonly part: ReadonlySignal<CurvePartRead | null>
  readonly levels: Signal<{ readonly fromK: number | null; readonly toK: number | null }>
  readonly passage: ReadonlySignal<Passage | null>
  readonly above: ReadonlySignal<Duration | null>
  /** Standard uncertainty of a plateau's level: its own, and what shifts the whole curve, K. */
  uncertaintyAt(plateau: Plateau): number
  change(changes: RecordingChanges): Promise<void>
  /** Puts the plateau into the kit as a known heat of the camera; its id. */
  keepReference(offer: PlateauOffer, meaning: PlateauMeaning): Promise<string | null>
  /** Whether the curve can be put through a plateau of that melt; null: it is none that could. */
  setsCurve(offer: PlateauOffer, meaning: PlateauMeaning): 'agrees' | 'heats disagree' | null
  /** Keeps the curve put through the plateau as another recording of that name; its id. */
  setBy(offer: PlateauOffer, meaning: PlateauMeaning, object: string): Promise<string | null>
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
  const asked = signal(false)
  let disposed = false

  const details = computed(() => storedDetails(stored.value?.details ?? null))
  const curve = computed((): HeatCurve | null =>
    stored.value
      ? {
          ...curveOf(stored.value.columns),
          rateShare: details.value.rateShare,
        }
      : null,
  )
  const whole = computed<Stretch>(() => ({ from: 0, to: stored.value?.head.durationSeconds ?? 0 }))
  const within = computed(() => stretch.value ?? whole.value)

  const peak = signal<Peak | null>(null)
  const course = signal<Course | null>(null)
  const place = signal<CurvePlace | null>(null)
  const part = signal<CurvePartRead | null>(null)
  const times = signal<{ passage: Passage | null; above: Duration } | null>(null)
  const open = signal(false)

  /** An answer of the bench; one that a later question has overtaken is dropped. */
  const answer = <T>(asked: Promise<T>, into: Signal<T | null>) => {
    asked.then(
      (found) => {
        if (!disposed) into.value = found
      },
      (error: { name?: string }) => {
        if (disposed || error.name === 'AbortError') return
        into.value = null
        failure.value = error
      },
    )
  }
  const stops = [
    effect(() => {
      const at = cursor.value
      if (!open.value || at === null) return
      answer(
        bench.slopeAt(at).then((slope) => ({ seconds: at, slope })),
        place,
      )
    }),
    effect(() => {
      if (!open.value || !asked.value) return
      answer(bench.part({ ...within.value, roomK: ROOM_K }), part)
    }),
    effect(() => {
      const { fromK, toK } = levels.value
      if (!open.value || fromK === null) {
        times.value = null
        return
      }
      answer(bench.times({ fromK, toK }), times)
    }),
  ]

  const find = async ({ head, columns }: StoredRecording) => {
    const of = curve.peek()
    if (!of) return
    const found = await bench.open(of)
    if (disposed) return
    open.value = true
    peak.value = found.peak
    course.value = found.course
    const { looks } = details.peek()
    plateaus.value = found.plateaus.map((plateau) => {
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
    peak,
    course,
    cursor,
    place,
    stretch,
    askPart() {
      asked.value = true
    },
    part,
    levels,
    passage: computed(() => times.value?.passage ?? null),
    above: computed(() => times.value?.above ?? null),
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
    setsCurve({ plateau }, meaning) {
      const { heats, rateShare } = details.value
      const heat = plateauHeat(plateau, meaning)
      if (!heat || stored.value?.head.source === 'table' || heats.length >= MOST_HEATS) return null
      const { fromSeconds, toSeconds } = plateau
      if (heats.some(({ seconds }) => seconds >= fromSeconds && seconds <= toSeconds)) return null
      const all = heatsWith(heats, heat, curve.value?.jumps ?? [])
      return scaleByHeats(all, rateShare).agrees ? 'agrees' : 'heats disagree'
    },
    async setBy({ plateau }, meaning, object) {
      const now = stored.peek()
      const heat = plateauHeat(plateau, meaning)
      if (!now || !heat) return null
      const set = setByHeat(now, details.peek(), heat, object)
      return (await (await log).recordings.add(set.draft, set.columns, set.details)).id
    },
    dispose() {
      disposed = true
      for (const stop of stops) stop()
      bench.close()
    },
  }
}
