import { batch, computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { estimateGlow } from '../../estimate/estimate-glow.ts'
import type { GlowEstimate, GlowInput } from '../../estimate/types.ts'
import { curveAge } from '../../light/exposure-sweep/curve-ageing.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { openSweep, type Sweep } from '../../sources/sweep/open-sweep.ts'
import { type Draft, type DraftPhoto, NOTES, readingDraft } from '../draft.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { type CurveStanding, curveStanding } from './curve-standing.ts'
import { type Choices, glowInput, levelConditions } from './glow-input.ts'
import { createGreyModel, type GreyModel } from './grey-model.ts'
import {
  type CurveInUse,
  cameraIdOf,
  linearityOf,
  linearityOfSweep,
  stateOf,
} from './photo-meaning.ts'
import { createPhotoSlot, type PhotoSlot } from './photo-slot.ts'
import { type ReadingNotes, readingNotesFrom } from './reading-draft.ts'
import { createStrayModel, type StrayModel } from './stray-model.ts'
import { createSweepModel, type SweepModel } from './sweep-model.ts'

export interface ReadingModel extends GreyModel {
  readonly glow: PhotoSlot
  readonly measurement: ReadonlySignal<PhotoMeasurement | null>
  /** The exposure sweep that the glow's photo belongs to. */
  readonly sweep: ReadonlySignal<SweepModel | null>
  /** What the kit's tone curves say to this photo; {@link useStoredCurve}: whether one is used. */
  readonly standing: ReadonlySignal<CurveStanding | null>
  readonly useStoredCurve: Signal<boolean>
  readonly stray: StrayModel
  readonly simulatedTruthK: ReadonlySignal<number | null>
  readonly choices: Signal<Choices>
  readonly input: ReadonlySignal<GlowInput | null>
  readonly estimate: ReadonlySignal<GlowEstimate | null>
  /** Hottest and coolest part of the glow, K. */
  readonly extremesK: ReadonlySignal<{ readonly hottest: number; readonly coolest: number } | null>
  open(blob: Blob, name: string, simulatedTruthK?: number): Promise<void>
  openSweep(files: readonly File[]): Promise<void>
  /** Puts the photo away; choices stay. */
  clear(): void
  /** Takes up work that a reload interrupted. */
  resume(photo: DraftPhoto, notes: unknown): Promise<void>
  dispose(): void
}

const FIRST_CHOICES: Choices = {
  materialId: 'steel-oxidised',
  cover: 'none',
  balanceState: { kind: 'unknown', colourTemperatureK: null },
}

/** @param draft where photo and choices survive a reload */
export function createReadingModel(
  { references, curves, earlierCurves }: Pick<KitModel, 'references' | 'curves' | 'earlierCurves'>,
  draft: Draft = readingDraft,
): ReadingModel {
  const glow = createPhotoSlot()
  const grey = createGreyModel(glow)
  const stray = createStrayModel(glow)
  const measurement = signal<PhotoMeasurement | null>(null)
  const sweep = signal<SweepModel | null>(null)
  const useStoredCurve = signal(true)
  const simulatedTruthK = signal<number | null>(null)
  const choices = signal<Choices>(FIRST_CHOICES)

  const standing = computed(() => {
    const of = glow.photo.value
    return of && curveStanding(of, curves.value, earlierCurves.value, new Date())
  })
  const curveInUse = computed<CurveInUse | null>(() => {
    const swept = sweep.value
    if (swept) {
      const check = swept.check.value
      const holds = swept.checkOnly && check?.kind === 'checked' && check.agrees
      if (!holds || !swept.kept) return null
      const at = swept.sweep.base.facts.takenAt ?? new Date().toISOString()
      return { kept: swept.kept, movedBy: curveAge(swept.kept.foundAt, at, at).movedBy }
    }
    const found = standing.value
    return useStoredCurve.value && found?.kind === 'holds' ? found : null
  })

  /** One photo is read: there is no sweep, or the photos only check a curve and have done so. */
  const single = computed(() => {
    const swept = sweep.value
    return !swept || (swept.checkOnly && swept.check.value !== null)
  })

  const input = computed<GlowInput | null>(() => {
    const of = glow.photo.value
    const measured = measurement.value
    const swept = sweep.value?.result.value
    const clean = stray.result.value
    if (!of || !measured || measured.refused) return null
    if (sweep.value && !single.value && swept?.kind !== 'measured') return null
    return glowInput({
      measurement: measured,
      ...(swept?.kind === 'measured'
        ? { glow: swept.glow }
        : clean?.kind === 'measured'
          ? { glow: clean.measurement.glow }
          : {}),
      channels: of.channels,
      cameraToXyz: of.cameraToXyz,
      linearity:
        sweep.value && swept?.kind === 'measured'
          ? linearityOfSweep(sweep.value.id, swept)
          : linearityOf(of, measured, curveInUse.value),
      balance: grey.balance.value,
      choices: choices.value,
      cameraId: cameraIdOf(of.facts),
      takenAt: of.facts.takenAt,
      references: references.value,
      // A sweep of its own has no scale in common with other photos.
      level: swept?.kind === 'measured' ? null : levelConditions(of, measured.region),
    })
  })

  const estimate = computed<GlowEstimate | null>(() => {
    const measured = measurement.value
    if (!measured) return null
    if (input.value) return estimateGlow(input.value)
    // A sweep that is being read or was refused says so in its own place.
    if (!single.value && !measured.refused) return null
    const clipped = measured.findings.some((finding) => finding.code === 'clipped')
    return { kind: 'no number', reason: clipped ? 'clipped' : 'dark', eye: null, findings: [] }
  })

  const extremesK = computed(() => {
    const whole = input.value
    const parts = measurement.value?.unevenness
    // Parts are decoded by the nominal curve: beside a sweep's light they would mislead.
    if (!single.value || !whole || !parts?.hottest || !parts.coolest) return null
    const of = (part: GlowInput['glow']) => {
      const found = estimateGlow({ ...whole, glow: part })
      return found.kind === 'temperature' ? found.temperatureK : null
    }
    const hottest = of(parts.hottest.colour)
    const coolest = of(parts.coolest.colour)
    if (hottest === null || coolest === null) return null
    // Chosen by G/R alone; a part's blue can turn two that are nearly alike round.
    return { hottest: Math.max(hottest, coolest), coolest: Math.min(hottest, coolest) }
  })

  // The photo drops stale answers; an answer for a photo that was put away comes to nothing.
  const stops = [
    effect(() => {
      const of = glow.photo.value
      const where = glow.region.value
      const curve = curveInUse.value?.kept.curve ?? null
      if (!of || !where) return
      of.measure(where, curve).then(
        (found) => {
          if (glow.photo.peek() !== of) return
          measurement.value = found
          glow.showMarks()
        },
        () => undefined,
      )
    }),
    effect(() => {
      const here = grey.greySource.value.kind === 'this photo'
      const notes: ReadingNotes = {
        region: glow.region.value,
        choices: choices.value,
        cardLight: grey.cardLight.value,
        cardRegionHere: here ? grey.cardRegion.value : null,
      }
      if (glow.photo.value) void draft.store(NOTES, notes)
    }),
  ]

  const endSweep = () => {
    sweep.peek()?.dispose()
    sweep.value = null
  }

  const clear = () => {
    void draft.discard()
    endSweep()
    stray.slot.close()
    glow.close()
    batch(() => {
      measurement.value = null
      simulatedTruthK.value = null
      grey.forgetCardHere()
    })
  }

  /** A new photo stands in the slot: what belonged to the former one goes. */
  const begin = (opened: Photo, truthK: number | null) => {
    endSweep()
    batch(() => {
      measurement.value = null
      simulatedTruthK.value = truthK
      grey.forgetCardHere()
      const { balanceState } = choices.value
      choices.value = { ...choices.value, balanceState: stateOf(opened, balanceState) }
    })
  }

  const open = async (blob: Blob, name: string, truthK: number | null): Promise<boolean> => {
    const opened = await glow.open(blob, name)
    if (opened) begin(opened, truthK)
    return opened !== null
  }

  return {
    ...grey,
    glow,
    measurement,
    sweep,
    stray,
    standing,
    useStoredCurve,
    simulatedTruthK,
    choices,
    input,
    estimate,
    extremesK,
    async open(blob, name, truthK) {
      const photo = { blob, name, truthK: truthK ?? null }
      if (await open(blob, name, photo.truthK)) await draft.storePhoto(photo)
    },
    async openSweep(files) {
      const opened: { sweep?: Sweep } = {}
      const name = `${files.length} photos`
      const base = await glow.openBy(name, async (options) => {
        opened.sweep = await openSweep(files, options)
        return opened.sweep.base
      })
      if (!base || !opened.sweep) return
      begin(base, null)
      void draft.discard()
      const found = standing.peek()
      const kept = found?.kind === 'holds' || found?.kind === 'failed' ? found.kept : null
      sweep.value = createSweepModel(opened.sweep, glow.region, kept)
    },
    clear,
    async resume({ blob, name, truthK }, stored) {
      const notes = readingNotesFrom(stored)
      if (!(await open(blob, name, truthK)) || !notes) return
      batch(() => {
        choices.value = notes.choices
        grey.cardLight.value = notes.cardLight
        if (notes.region) glow.setRegion(notes.region)
        if (notes.cardRegionHere) {
          grey.startCardHere(notes.cardRegionHere)
          grey.setCardRegion(notes.cardRegionHere)
        }
      })
    },
    dispose() {
      for (const stop of stops) stop()
      endSweep()
      stray.dispose()
      grey.disposeGrey()
      glow.close()
    },
  }
}
