import { batch, computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { estimateGlow } from '../../estimate/estimate-glow.ts'
import type { GlowEstimate, GlowInput } from '../../estimate/types.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Log, NewPicture } from '../../log/schema/types.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { NO_DRAFT } from '../draft.ts'
import { firstValue } from '../first-value.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { type Choices, surfaceOf, windowOf } from './glow-input.ts'
import { takenAtOf } from './photo-meaning.ts'
import type { OpeningRefusal } from './photo-slot.ts'
import { createReadingModel } from './reading-model.ts'
import { readingRecord } from './reading-record.ts'

interface Measured {
  readonly photo: Photo
  readonly input: GlowInput | null
  readonly measurement: PhotoMeasurement
  readonly estimate: GlowEstimate
  readonly choices: Choices
  readonly picture: NewPicture | undefined
}

export type BatchState =
  | { readonly kind: 'waiting' }
  | {
      readonly kind: 'measured'
      readonly estimate: GlowEstimate
      readonly pictureUrl: string | null
    }
  | { readonly kind: 'failed'; readonly reason: OpeningRefusal | null }

export interface BatchRow {
  readonly name: string
  readonly state: BatchState
  /** Id of the saved reading. */
  readonly savedAs: string | null
}

/** Separate photos read one after the other, each as it would be read alone. */
export interface BatchModel {
  readonly rows: ReadonlySignal<readonly BatchRow[]>
  readonly done: ReadonlySignal<boolean>
  /** Surface of all; empty while nobody has said it. */
  readonly materialId: Signal<string>
  readonly object: Signal<string>
  /** Saves every reading with a figure that is not saved yet; resolves to their number. */
  save(log: Log, now: Date): Promise<number>
  dispose(): void
}

export function createBatchModel(files: readonly File[], kit: KitModel): BatchModel {
  const measured = signal<
    readonly (Measured | 'waiting' | { readonly reason: OpeningRefusal | null })[]
  >(files.map(() => 'waiting'))
  const urls = new Map<number, string>()
  const savedAs = signal<readonly (string | null)[]>(files.map(() => null))
  const materialId = signal('')
  const object = signal('')
  let disposed = false

  const readOne = async (
    file: File,
  ): Promise<Measured | { readonly reason: OpeningRefusal | null }> => {
    const model = createReadingModel(kit, NO_DRAFT)
    try {
      await model.open(file, file.name)
      const photo = model.glow.photo.peek()
      if (!photo) return { reason: model.glow.refusal.peek() }
      // With the tone curve that counts for it, or why there is no figure.
      const settled = computed(
        () => model.glow.refusal.value ?? (model.outdated.value ? null : model.estimate.value),
      )
      await firstValue(settled)
      const measurement = model.measurement.peek()
      const estimate = model.estimate.peek()
      if (!measurement || !estimate) return { reason: model.glow.refusal.peek() }
      const picture = await photo.regionPicture(measurement.region).catch(() => undefined)
      const choices = model.choices.peek()
      if (materialId.peek() === '') materialId.value = choices.materialId
      if (object.peek() === '') object.value = model.object.peek()
      return { photo, input: model.input.peek(), measurement, estimate, choices, picture }
    } finally {
      model.dispose()
    }
  }
  const work = async () => {
    for (const [i, file] of files.entries()) {
      if (disposed) return
      const found = await readOne(file)
      if (disposed) return
      if ('picture' in found && found.picture) {
        urls.set(i, URL.createObjectURL(found.picture.blob))
      }
      measured.value = measured.peek().with(i, found)
    }
  }
  void work()

  /** With the surface that was said for all. */
  const inputOf = ({ input, choices }: Measured): GlowInput | null =>
    input && {
      ...input,
      surface: surfaceOf(materialId.value),
      window: windowOf(choices.cover),
    }
  const estimateOf = (one: Measured): GlowEstimate => {
    const input = inputOf(one)
    return input ? estimateGlow(input) : one.estimate
  }

  return {
    rows: computed(() =>
      measured.value.map((one, i) => {
        const state: BatchState =
          one === 'waiting'
            ? { kind: 'waiting' }
            : 'reason' in one
              ? { kind: 'failed', reason: one.reason }
              : { kind: 'measured', estimate: estimateOf(one), pictureUrl: urls.get(i) ?? null }
        return { name: files[i]?.name ?? '', state, savedAs: savedAs.value[i] ?? null }
      }),
    ),
    done: computed(() => measured.value.every((one) => one !== 'waiting')),
    materialId,
    object,
    async save(log, now) {
      let count = 0
      for (const [i, one] of measured.peek().entries()) {
        if (one === 'waiting' || 'reason' in one || savedAs.peek()[i]) continue
        const estimate = estimateOf(one)
        if (estimate.kind !== 'temperature') continue
        const record = readingRecord({
          estimate,
          input: inputOf(one),
          measurement: one.measurement,
          photo: one.photo,
          simulatedTruthK: null,
          cover: one.choices.cover,
          materialId: materialId.peek(),
          labels: { object: object.peek(), notes: '' },
          takenAt: takenAtOf(one.photo.facts, now),
        })
        const { id } = await log.add(record, one.picture)
        savedAs.value = savedAs.peek().with(i, id)
        count++
      }
      return count
    },
    dispose() {
      disposed = true
      for (const url of urls.values()) URL.revokeObjectURL(url)
      batch(() => {
        measured.value = []
      })
    },
  }
}
