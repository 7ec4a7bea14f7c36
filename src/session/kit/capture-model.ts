import { batch, computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { estimateGlow } from '../../estimate/estimate-glow.ts'
import { locusView } from '../../estimate/locus-view.ts'
import { predictingReading } from '../../estimate/predicted-uncertainty.ts'
import type {
  GlowEstimate,
  GlowInput,
  KnownHeatReference,
  LocusView,
  ReferenceUse,
  TemperatureEstimate,
} from '../../estimate/types.ts'
import type { Json, NewKitItem } from '../../log/schema/types.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import { captureDraft, type Draft, NOTES } from '../draft.ts'
import { inSlices } from '../in-slices.ts'
import { takenAtOf } from '../reading/photo-meaning.ts'
import { createReadingModel } from '../reading/reading-model.ts'
import type { ReadingModel } from '../reading/reading-model-type.ts'
import type { KitModel } from './kit-model.ts'
import type { StoredHeat } from './stored-items.ts'
import {
  heatById,
  lampSurface,
  type Subject,
  type SubjectTemperature,
  subjectGroup,
  subjectOrigin,
  subjectTemperature,
} from './subject.ts'

/** Where the benefit of a reference is shown: the middle of forge and heating work. */
export const SHOWN_AT_K = kelvinFromCelsius(900)

/** What the open reference would do to readings of this camera. */
export interface ReferenceBenefit {
  /** A reading at {@link SHOWN_AT_K} by what the kit holds so far, and with this one. */
  readonly before: TemperatureEstimate | null
  readonly after: TemperatureEstimate | null
  /** What the rest of the evidence says about it. */
  readonly use: Pick<ReferenceUse, 'id' | 'status' | 'standardisedResidual'> | null
  /** The camera's locus before any known heat, and with all of them and this one. */
  readonly view: LocusView
}

export interface CaptureModel {
  readonly reading: ReadingModel
  readonly subject: Signal<Subject>
  readonly temperature: ReadonlySignal<ReturnType<typeof subjectTemperature>>
  /** Why it cannot be kept yet; null when it can. */
  readonly obstacle: ReadonlySignal<Obstacle | null>
  readonly candidate: ReadonlySignal<KnownHeatReference | null>
  /** Null where there is no candidate; of the former region while {@link working}. */
  readonly benefit: ReadonlySignal<ReferenceBenefit | null>
  readonly working: ReadonlySignal<boolean>
  /** The item to be kept. */
  item(name: string, now: Date): NewKitItem | null
  dispose(): void
}

export type Obstacle =
  | 'no photo'
  | 'no temperature'
  | 'not measured'
  | 'white balance not fixed'
  | 'no surface'

/** The region moves many times a second; the benefit of a reference takes a good part of one. */
const SETTLED_MS = 250

/** @param stored where the photo survives a reload */
export function createCaptureModel(
  kit: KitModel,
  first: Subject,
  stored: Draft = captureDraft,
): CaptureModel {
  const subject = signal(first)
  // What the photo shows comes back with it after a reload.
  let notes: object = {}
  const draft: Draft = {
    ...stored,
    store: (name, of) => {
      notes = of as object
      return stored.store(name, { ...notes, subject: subject.peek() })
    },
  }
  // The piece that is usually read is not the one that is known.
  const reading = createReadingModel(kit, draft, { usual: false })
  const temperature = computed(() => subjectTemperature(subject.value))
  const benefit = signal<ReferenceBenefit | null>(null)
  const working = signal(false)

  const obstacle = computed<Obstacle | null>(() => {
    if (!reading.glow.photo.value) return 'no photo'
    if (!temperature.value.ok) return 'no temperature'
    const input = reading.input.value
    if (!input) return 'not measured'
    const { kind } = input.balanceState
    if (kind === 'automatic' || kind === 'unknown') return 'white balance not fixed'
    const asked = subject.value.kind === 'known heat'
    return asked && reading.choices.value.materialId === '' ? 'no surface' : null
  })

  const candidate = computed<KnownHeatReference | null>(() => {
    const input = reading.input.value
    const known = temperature.value
    const stops = obstacle.value !== null && obstacle.value !== 'no surface'
    if (stops || !input || !known.ok) return null
    return candidateOf(subject.value, known, input)
  })

  let timer: ReturnType<typeof setTimeout> | undefined
  let work = new AbortController()
  const stopWorth = effect(() => {
    const mine = candidate.value
    const others = kit.references.value
    const input = reading.input.peek()
    clearTimeout(timer)
    work.abort()
    working.value = mine !== null
    if (!mine || !input) {
      benefit.value = null
      return
    }
    work = new AbortController()
    const stopped = work.signal
    const like = { ...input, takenAt: mine.takenAt }
    timer = setTimeout(async () => {
      const found = await inSlices(benefitOf(like, others, mine), stopped)
      if (!found) return
      batch(() => {
        benefit.value = found
        working.value = false
      })
    }, SETTLED_MS)
  })

  const stopNotes = effect(() => {
    const what = subject.value
    if (reading.glow.photo.peek()) void stored.store(NOTES, { ...notes, subject: what })
  })

  return {
    reading,
    subject,
    temperature,
    obstacle,
    candidate,
    benefit,
    working,
    item(name, now) {
      const reference = candidate.peek()
      const photo = reading.glow.photo.peek()
      const input = reading.input.peek()
      if (!reference || !photo || !input) return null
      const { id: _, name: __, ...kept } = reference
      const date = takenAtOf(photo.facts, now)
      const group = kept.group ?? meltOf(subject.peek(), reference, date.iso, kit.heats.peek())
      const data = {
        reference: { ...kept, takenAt: date.iso, group },
        off: false,
        origin: subjectOrigin(subject.peek()),
        cameraToXyz: input.cameraToXyz,
        photo: {
          width: photo.width,
          height: photo.height,
          space: photo.space,
          facts: photo.facts,
        },
        measurement: reading.measurement.peek(),
      }
      return {
        kind: 'known heat',
        name,
        date,
        cameraId: reference.cameraId,
        balanceState: reference.balanceState.kind,
        temperatureK: reference.temperatureK,
        standardUncertaintyK: reference.standardUncertaintyK,
        simulated: reading.simulatedTruthK.peek() !== null,
        data: data as unknown as Json,
      }
    },
    dispose() {
      clearTimeout(timer)
      work.abort()
      stopWorth()
      stopNotes()
      void stored.discard()
      reading.dispose()
    },
  }
}

function* benefitOf(
  like: GlowInput,
  others: readonly KnownHeatReference[],
  mine: KnownHeatReference,
): Generator<void, ReferenceBenefit> {
  const all = [...others, mine]
  const before = yield* predictingReading(
    { ...like, references: others },
    SHOWN_AT_K,
    mine.temperatureK,
  )
  const after = yield* predictingReading(
    { ...like, references: all },
    SHOWN_AT_K,
    mine.temperatureK,
  )
  const view = locusView({ ...like, references: all })
  const uses = after?.referencesUsed ?? usesOf(estimateGlow({ ...like, references: all }))
  const use = uses.find(({ id }) => id === mine.id) ?? null
  return { before, after, use, view }
}

/** Where no reading can be predicted, a heat that no camera could see so is still reported. */
const usesOf = (estimate: GlowEstimate): readonly NonNullable<ReferenceBenefit['use']>[] =>
  estimate.kind === 'temperature'
    ? estimate.referencesUsed
    : estimate.findings.flatMap((finding) =>
        finding.code === 'reference conflicts'
          ? [
              {
                id: finding.referenceId,
                status: 'conflicting' as const,
                standardisedResidual: finding.standardisedResidual,
              },
            ]
          : [],
      )

/** Photos of one thing melting once are taken within this time; another melt is another day's work. */
const ONE_MELT_MS = 20 * 60_000

/**
 * One melt photographed several times is one melt: its photos share the error of its temperature.
 *
 * @returns null where nothing melts
 */
function meltOf(
  subject: Subject,
  { cameraId }: KnownHeatReference,
  takenAt: string,
  heats: readonly StoredHeat[],
): string | null {
  if (subject.kind !== 'known heat') return null
  const { id } = subject.choice
  const by = heatById(id)?.points.by
  if (by !== 'nothing' && by !== 'atmosphere') return null
  const same = heats.find(
    ({ origin, reference }) =>
      origin?.kind === 'known heat' &&
      origin.id === id &&
      reference.cameraId === cameraId &&
      Math.abs(Date.parse(reference.takenAt) - Date.parse(takenAt)) < ONE_MELT_MS,
  )
  return same?.reference.group ?? `melt ${newUuid()}`
}

/** Id of a reference that is not in the kit. */
const IN_HAND = 'in hand'

function candidateOf(
  subject: Subject,
  { temperatureK, standardUncertaintyK }: SubjectTemperature,
  input: NonNullable<ReadingModel['input']['value']>,
): KnownHeatReference {
  return {
    id: IN_HAND,
    name: 'this one',
    cameraId: input.cameraId,
    takenAt: input.takenAt ?? '',
    temperatureK,
    standardUncertaintyK,
    glow: input.glow,
    channels: input.channels,
    balance: input.balance,
    balanceState: input.balanceState,
    linearity: input.linearity,
    surface: subject.kind === 'lamp' ? lampSurface(subject.target) : input.surface,
    group: subjectGroup(subject),
    // A filament is no surface to compare brightness with.
    ...(input.level && subject.kind !== 'lamp' ? { level: input.level } : {}),
  }
}
