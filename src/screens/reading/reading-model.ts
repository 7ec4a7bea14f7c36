import { batch, computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { estimateGlow } from '../../estimate/estimate-glow.ts'
import type {
  GlowEstimate,
  GlowInput,
  GreyBalance,
  KnownHeatReference,
} from '../../estimate/types.ts'
import type { CardLight } from '../../light/card-light.ts'
import { balanceFromGrey, type GreyMeasurement } from '../../light/grey-reference.ts'
import type { Region } from '../../light/image.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { openPhoto } from '../../sources/photo/photo-client.ts'
import { middleRegion } from '../../ui/region-geometry.ts'
import type { Notice } from '../../ui/words/estimate.ts'
import { refusalSentence } from '../../ui/words/photo-refusals.ts'
import type { KeptGrey } from '../kit/kit-model.ts'
import { type Choices, glowInput } from './glow-input.ts'
import { cameraIdOf, linearityOf, stateFromFacts } from './photo-meaning.ts'

/** Where the grey reference comes from. */
export type GreySource =
  | { readonly kind: 'none' }
  | { readonly kind: 'kept'; readonly grey: KeptGrey }
  | { readonly kind: 'this photo' }
  | { readonly kind: 'other photo' }

export interface Opening {
  readonly name: string
  /** 0..1, or null while unknown. */
  readonly progress: number | null
}

export interface ReadingModel {
  readonly photo: ReadonlySignal<Photo | null>
  readonly opening: ReadonlySignal<Opening | null>
  /** Why the last file could not be opened; null when it could. */
  readonly refusal: Signal<Notice | null>
  readonly region: ReadonlySignal<Region | null>
  readonly measurement: ReadonlySignal<PhotoMeasurement | null>
  /** Clipped and floor marks of the glow's photo and of the card's. */
  readonly marksUrl: ReadonlySignal<string | null>
  readonly cardMarksUrl: ReadonlySignal<string | null>
  readonly simulatedTruthK: ReadonlySignal<number | null>
  readonly choices: Signal<Choices>
  readonly greySource: Signal<GreySource>
  readonly cardPhoto: ReadonlySignal<Photo | null>
  readonly cardRegion: ReadonlySignal<Region | null>
  readonly cardLight: Signal<CardLight>
  readonly card: ReadonlySignal<GreyMeasurement | null>
  readonly balance: ReadonlySignal<GreyBalance | null>
  readonly input: ReadonlySignal<GlowInput | null>
  readonly estimate: ReadonlySignal<GlowEstimate | null>
  /** Hottest and coolest part of the glow, K. */
  readonly extremesK: ReadonlySignal<{ readonly hottest: number; readonly coolest: number } | null>
  open(blob: Blob, name: string, simulatedTruthK?: number): Promise<void>
  openCard(blob: Blob, name: string): Promise<void>
  cancel(): void
  setRegion(region: Region): void
  setCardRegion(region: Region): void
  /** Puts the photo away; choices stay. */
  clear(): void
  dispose(): void
}

const FIRST_CHOICES: Choices = {
  materialId: 'steel-oxidised',
  cover: 'none',
  balanceState: { kind: 'unknown', colourTemperatureK: null },
}

export function createReadingModel(
  references: ReadonlySignal<readonly KnownHeatReference[]>,
): ReadingModel {
  const photo = signal<Photo | null>(null)
  const opening = signal<Opening | null>(null)
  const refusal = signal<Notice | null>(null)
  const region = signal<Region | null>(null)
  const measurement = signal<PhotoMeasurement | null>(null)
  const marksUrl = signal<string | null>(null)
  const cardMarksUrl = signal<string | null>(null)
  const simulatedTruthK = signal<number | null>(null)
  const choices = signal<Choices>(FIRST_CHOICES)
  const greySource = signal<GreySource>({ kind: 'none' })
  const otherPhoto = signal<Photo | null>(null)
  const cardRegion = signal<Region | null>(null)
  const cardLight = signal<CardLight>({ kind: 'daylight', illuminant: 'D65' })
  const card = signal<GreyMeasurement | null>(null)
  let abort: AbortController | null = null

  const cardPhoto = computed(() => {
    if (greySource.value.kind === 'this photo') return photo.value
    return greySource.value.kind === 'other photo' ? otherPhoto.value : null
  })

  const balance = computed<GreyBalance | null>(() => {
    const source = greySource.value
    if (source.kind === 'kept') return source.grey.balance
    const measured = card.value
    if (source.kind === 'none' || !measured || measured.refused) return null
    const channels = photo.value?.channels ?? 'display-p3'
    const found = balanceFromGrey({ card: measured.card, light: cardLight.value, channels })
    return { id: 'in hand', ...found }
  })

  const input = computed<GlowInput | null>(() => {
    const of = photo.value
    const measured = measurement.value
    if (!of || !measured || measured.refused) return null
    return glowInput({
      measurement: measured,
      channels: of.channels,
      cameraToXyz: of.cameraToXyz,
      linearity: linearityOf(of, measured),
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
    const clipped = measured.findings.some((finding) => finding.code === 'clipped')
    return { kind: 'no number', reason: clipped ? 'clipped' : 'dark', eye: null, findings: [] }
  })

  const extremesK = computed(() => {
    const whole = input.value
    const parts = measurement.value?.unevenness
    if (!whole || !parts?.hottest || !parts.coolest) return null
    const of = (glow: GlowInput['glow']) => {
      const part = estimateGlow({ ...whole, glow })
      return part.kind === 'temperature' ? part.temperatureK : null
    }
    const hottest = of(parts.hottest.colour)
    const coolest = of(parts.coolest.colour)
    return hottest === null || coolest === null ? null : { hottest, coolest }
  })

  // Every pixel is looked at for the marks: only after the first answer is on the screen.
  const showMarks = (
    of: Photo,
    still: ReadonlySignal<Photo | null>,
    url: Signal<string | null>,
  ) => {
    of.marks().then(
      (found) => {
        if (still.peek() === of) url.value = found
      },
      () => undefined,
    )
  }

  // The worker drops stale answers; an answer for a photo that was put away comes to nothing.
  const stopGlow = effect(() => {
    const of = photo.value
    const where = region.value
    if (!of || !where) return
    of.measure(where).then(
      (found) => {
        if (photo.peek() !== of) return
        measurement.value = found
        showMarks(of, photo, marksUrl)
      },
      () => undefined,
    )
  })
  const stopCard = effect(() => {
    const of = cardPhoto.value
    const where = cardRegion.value
    const light = cardLight.value
    if (!of || !where) return
    of.measureGrey(where, light).then(
      (found) => {
        if (cardPhoto.peek() !== of) return
        card.value = found
        showMarks(of, cardPhoto, cardMarksUrl)
      },
      () => undefined,
    )
  })

  const decode = async (blob: Blob, name: string): Promise<Photo | null> => {
    abort?.abort()
    const mine = new AbortController()
    abort = mine
    refusal.value = null
    opening.value = { name, progress: null }
    try {
      return await openPhoto(blob, {
        signal: mine.signal,
        onProgress: (progress) => {
          if (abort === mine) opening.value = { name, progress }
        },
      })
    } catch (error) {
      if (!mine.signal.aborted) refusal.value = refusalSentence(error, name)
      return null
    } finally {
      if (abort === mine) {
        opening.value = null
        abort = null
      }
    }
  }

  const putAway = () => {
    photo.value?.close()
    batch(() => {
      photo.value = null
      region.value = null
      measurement.value = null
      marksUrl.value = null
      simulatedTruthK.value = null
      if (greySource.value.kind === 'this photo') {
        greySource.value = { kind: 'none' }
        cardRegion.value = null
        card.value = null
      }
    })
  }

  return {
    photo,
    opening,
    refusal,
    region,
    measurement,
    marksUrl,
    cardMarksUrl,
    simulatedTruthK,
    choices,
    greySource,
    cardPhoto,
    cardRegion,
    cardLight,
    card,
    balance,
    input,
    estimate,
    extremesK,
    async open(blob, name, truthK) {
      const opened = await decode(blob, name)
      if (!opened) return
      putAway()
      batch(() => {
        photo.value = opened
        simulatedTruthK.value = truthK ?? null
        region.value = opened.proposal ?? middleRegion(opened)
        const stated = stateFromFacts(opened.facts)
        if (stated) choices.value = { ...choices.value, balanceState: stated }
      })
    },
    async openCard(blob, name) {
      const opened = await decode(blob, name)
      if (!opened) return
      otherPhoto.value?.close()
      batch(() => {
        otherPhoto.value = opened
        card.value = null
        cardRegion.value = middleRegion(opened)
        greySource.value = { kind: 'other photo' }
      })
    },
    cancel() {
      abort?.abort()
    },
    setRegion(next) {
      region.value = next
    },
    setCardRegion(next) {
      cardRegion.value = next
    },
    clear: putAway,
    dispose() {
      abort?.abort()
      stopGlow()
      stopCard()
      putAway()
      otherPhoto.value?.close()
    },
  }
}
