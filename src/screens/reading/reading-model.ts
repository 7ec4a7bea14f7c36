import { batch, computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { estimateGlow } from '../../estimate/estimate-glow.ts'
import type { GlowEstimate, GlowInput, GreyBalance } from '../../estimate/types.ts'
import type { CardLight } from '../../light/card-light.ts'
import { balanceFromGrey, type GreyMeasurement } from '../../light/grey-reference.ts'
import type { Region } from '../../light/image.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { openSweep, type Sweep } from '../../sources/sweep/open-sweep.ts'
import { type Hands, readingHands, type WorkInHand } from '../../sources/work-in-hand.ts'
import { middleRegion } from '../../ui/region-geometry.ts'
import type { KeptCurve, KeptGrey, KitModel } from '../kit/kit-model.ts'
import { type Choices, glowInput } from './glow-input.ts'
import { type NotesInHand, notesFrom } from './notes-in-hand.ts'
import { cameraIdOf, curveOf, linearityOf, linearityOfSweep, stateOf } from './photo-meaning.ts'
import { createPhotoSlot, type PhotoSlot } from './photo-slot.ts'
import { createStrayModel, type StrayModel } from './stray-model.ts'
import { createSweepModel, type SweepModel } from './sweep-model.ts'

/** Where the grey reference comes from. */
export type GreySource =
  | { readonly kind: 'none' }
  | { readonly kind: 'kept'; readonly grey: KeptGrey }
  | { readonly kind: 'this photo' }
  | { readonly kind: 'other photo' }

export interface ReadingModel {
  readonly glow: PhotoSlot
  readonly measurement: ReadonlySignal<PhotoMeasurement | null>
  /** The exposure sweep that the glow's photo belongs to. */
  readonly sweep: ReadonlySignal<SweepModel | null>
  /** The tone curve of the kit that holds for this photo; {@link useKeptCurve} says whether it is used. */
  readonly keptCurve: ReadonlySignal<KeptCurve | null>
  readonly useKeptCurve: Signal<boolean>
  readonly stray: StrayModel
  readonly simulatedTruthK: ReadonlySignal<number | null>
  readonly choices: Signal<Choices>
  readonly greySource: Signal<GreySource>
  /** The other photo of the card. */
  readonly other: PhotoSlot
  /** The region of the card, in this photo or in the other one. */
  readonly cardRegion: ReadonlySignal<Region | null>
  readonly cardLight: Signal<CardLight>
  readonly card: ReadonlySignal<GreyMeasurement | null>
  readonly balance: ReadonlySignal<GreyBalance | null>
  readonly input: ReadonlySignal<GlowInput | null>
  readonly estimate: ReadonlySignal<GlowEstimate | null>
  /** Hottest and coolest part of the glow, K. */
  readonly extremesK: ReadonlySignal<{ readonly hottest: number; readonly coolest: number } | null>
  open(blob: Blob, name: string, simulatedTruthK?: number): Promise<void>
  openSweep(files: readonly File[]): Promise<void>
  openCard(blob: Blob, name: string): Promise<void>
  setCardRegion(region: Region): void
  /** Puts the photo away; choices stay. */
  clear(): void
  /** Takes up work that a reload interrupted. */
  resume(work: WorkInHand): Promise<void>
  dispose(): void
}

const FIRST_CHOICES: Choices = {
  materialId: 'steel-oxidised',
  cover: 'none',
  balanceState: { kind: 'unknown', colourTemperatureK: null },
}

/** @param hands where photo and choices survive a reload */
export function createReadingModel(
  { references, curves }: Pick<KitModel, 'references' | 'curves'>,
  hands: Hands = readingHands,
): ReadingModel {
  const glow = createPhotoSlot()
  const other = createPhotoSlot()
  const stray = createStrayModel(glow)
  const measurement = signal<PhotoMeasurement | null>(null)
  const sweep = signal<SweepModel | null>(null)
  const useKeptCurve = signal(true)
  const simulatedTruthK = signal<number | null>(null)
  const choices = signal<Choices>(FIRST_CHOICES)
  const greySource = signal<GreySource>({ kind: 'none' })
  const regionHere = signal<Region | null>(null)
  const cardLight = signal<CardLight>({ kind: 'daylight', illuminant: 'D65' })
  const card = signal<GreyMeasurement | null>(null)

  const cardSlot = computed(() => {
    if (greySource.value.kind === 'this photo') return glow
    return greySource.value.kind === 'other photo' ? other : null
  })
  const cardRegion = computed(() =>
    cardSlot.value === glow ? regionHere.value : (cardSlot.value?.region.value ?? null),
  )

  const balance = computed<GreyBalance | null>(() => {
    const source = greySource.value
    if (source.kind === 'kept') return source.grey.balance
    const measured = card.value
    if (source.kind === 'none' || !measured || measured.refused) return null
    const channels = glow.photo.value?.channels ?? 'display-p3'
    const found = balanceFromGrey({ card: measured.card, light: cardLight.value, channels })
    return { id: 'in hand', ...found }
  })

  const keptCurve = computed(() => {
    const of = glow.photo.value
    return of && !sweep.value ? curveOf(of, curves.value) : null
  })
  const curveInUse = computed(() => (useKeptCurve.value ? keptCurve.value : null))

  const input = computed<GlowInput | null>(() => {
    const of = glow.photo.value
    const measured = measurement.value
    const swept = sweep.value?.result.value
    const clean = stray.result.value
    if (!of || !measured || measured.refused) return null
    if (sweep.value && swept?.kind !== 'measured') return null
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
        swept?.kind === 'measured'
          ? linearityOfSweep(swept)
          : linearityOf(of, measured, curveInUse.value),
      balance: balance.value,
      choices: choices.value,
      cameraId: cameraIdOf(of.facts),
      takenAt: of.facts.takenAt,
      references: references.value,
    })
  })

  const estimate = computed<GlowEstimate | null>(() => {
    const measured = measurement.value
    if (!measured) return null
    if (input.value) return estimateGlow(input.value)
    // A sweep that is being read or was refused says so in its own place.
    if (sweep.value && !measured.refused) return null
    const clipped = measured.findings.some((finding) => finding.code === 'clipped')
    return { kind: 'no number', reason: clipped ? 'clipped' : 'dark', eye: null, findings: [] }
  })

  const extremesK = computed(() => {
    const whole = input.value
    const parts = measurement.value?.unevenness
    if (!whole || !parts?.hottest || !parts.coolest) return null
    const of = (part: GlowInput['glow']) => {
      const found = estimateGlow({ ...whole, glow: part })
      return found.kind === 'temperature' ? found.temperatureK : null
    }
    const hottest = of(parts.hottest.colour)
    const coolest = of(parts.coolest.colour)
    return hottest === null || coolest === null ? null : { hottest, coolest }
  })

  // The photo drops stale answers; an answer for a photo that was put away comes to nothing.
  const stops = [
    effect(() => {
      const of = glow.photo.value
      const where = glow.region.value
      const curve = curveInUse.value?.curve ?? null
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
      const slot = cardSlot.value
      const of = slot?.photo.value
      const where = cardRegion.value
      const light = cardLight.value
      if (!slot || !of || !where) return
      of.measureGrey(where, light).then(
        (found) => {
          if (slot.photo.peek() !== of) return
          card.value = found
          slot.showMarks()
        },
        () => undefined,
      )
    }),
    effect(() => {
      const source = greySource.value
      const notes: NotesInHand = {
        region: glow.region.value,
        choices: choices.value,
        cardLight: cardLight.value,
        cardRegionHere: source.kind === 'this photo' ? regionHere.value : null,
      }
      if (glow.photo.value) void hands.keepNotes(notes)
    }),
  ]

  const endSweep = () => {
    sweep.peek()?.dispose()
    sweep.value = null
  }

  const clear = () => {
    void hands.putDown()
    endSweep()
    stray.slot.close()
    glow.close()
    batch(() => {
      measurement.value = null
      simulatedTruthK.value = null
      if (greySource.value.kind === 'this photo') {
        greySource.value = { kind: 'none' }
        regionHere.value = null
        card.value = null
      }
    })
  }

  /** A new photo stands in the slot: what belonged to the former one goes. */
  const begin = (opened: Photo, truthK: number | null) => {
    endSweep()
    batch(() => {
      measurement.value = null
      simulatedTruthK.value = truthK
      if (greySource.value.kind === 'this photo') greySource.value = { kind: 'none' }
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
    glow,
    measurement,
    sweep,
    stray,
    keptCurve,
    useKeptCurve,
    simulatedTruthK,
    choices,
    greySource,
    other,
    cardRegion,
    cardLight,
    card,
    balance,
    input,
    estimate,
    extremesK,
    async open(blob, name, truthK) {
      if (await open(blob, name, truthK ?? null)) await hands.keepPhoto(blob, name, truthK ?? null)
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
      void hands.putDown()
      sweep.value = createSweepModel(opened.sweep, glow.region)
    },
    async openCard(blob, name) {
      const opened = await other.open(blob, name)
      if (!opened) return
      batch(() => {
        card.value = null
        other.setRegion(middleRegion(opened))
        greySource.value = { kind: 'other photo' }
      })
    },
    setCardRegion(next) {
      if (greySource.peek().kind === 'other photo') other.setRegion(next)
      else regionHere.value = next
    },
    clear,
    async resume(work) {
      const notes = notesFrom(work.notes)
      if (!(await open(work.blob, work.name, work.truthK)) || !notes) return
      batch(() => {
        choices.value = notes.choices
        cardLight.value = notes.cardLight
        if (notes.region) glow.setRegion(notes.region)
        if (notes.cardRegionHere) {
          regionHere.value = notes.cardRegionHere
          greySource.value = { kind: 'this photo' }
        }
      })
    },
    dispose() {
      for (const stop of stops) stop()
      endSweep()
      stray.dispose()
      glow.close()
      other.close()
    },
  }
}
