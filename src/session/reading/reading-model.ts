import {
  batch,
  computed,
  effect,
  type ReadonlySignal,
  type Signal,
  signal,
  untracked,
} from '@preact/signals'
import { estimateGlow } from '../../estimate/estimate-glow.ts'
import type { GlowEstimate, GlowInput, GreyBalance } from '../../estimate/types.ts'
import type { CardLightId } from '../../light/card-light.ts'
import { curveAge } from '../../light/exposure-sweep/curve-ageing.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../light/image.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import { moveBy } from '../../light/region-geometry.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import type { MadeMap } from '../../sources/map/map-operations.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { openSweep, type Sweep } from '../../sources/sweep/open-sweep.ts'
import { type Draft, type DraftPhoto, NOTES, readingDraft } from '../draft.ts'
import { profileOf } from '../kit/camera-profile.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { contentIdOf } from './content-id.ts'
import { type CurveStanding, curveStanding } from './curve-standing.ts'
import { type Choices, glowInput, levelConditions } from './glow-input.ts'
import { createGreyModel, type GreyModel } from './grey-model.ts'
import {
  type CurveInUse,
  cameraIdOf,
  deviceIdOf,
  linearityOf,
  linearityOfSweep,
  stateOf,
} from './photo-meaning.ts'
import { createPhotoSlot, type PhotoSlot } from './photo-slot.ts'
import { type ReadingNotes, readingNotesFrom } from './reading-draft.ts'
import { cardMoved, type StoredForPhoto, storedForPhoto } from './stored-for-photo.ts'
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
  /** The tone curve by which the photo's light is counted; null: the nominal one. */
  readonly curve: ReadonlySignal<ToneCurve | null>
  readonly stray: StrayModel
  /** The map of this very reading, once it was looked at; it is saved with it. */
  readonly map: Signal<MadeMap | null>
  readonly simulatedTruthK: ReadonlySignal<number | null>
  readonly choices: Signal<Choices>
  /** The piece that is read, by its name. */
  readonly object: Signal<string>
  /** Make and model, or the name that the person gave; empty where nobody has said it. */
  readonly device: ReadonlySignal<string>
  /** What the kit holds for this photo; applied once, when the photo is opened. */
  readonly stored: ReadonlySignal<StoredForPhoto | null>
  /** For files that do not name their camera. */
  nameCamera(name: string): void
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

/** The surface changes the figure: it is asked, not preselected. */
const FIRST_CHOICES: Choices = {
  materialId: '',
  cover: 'none',
  balanceState: { kind: 'unknown', colourTemperatureK: null },
}

/** What the simulated scene is made of: the one surface that is known beforehand. */
const SIMULATED_SURFACE = 'steel-oxidised'

/** The lamp that lights the card where the camera cannot be locked; see CardLightPicker. */
const LAMP_ON_CARD: CardLightId = {
  kind: 'filament',
  colourTemperatureK: 2700,
  standardUncertaintyK: 100,
}

/** Steps away from where the card lay, in sizes of its frame: nearest first. */
const AROUND = [0, 0.5, -0.5, 1, -1] as const

/** The place near the remembered one where a card can be measured without fault; null for none. */
async function findCard(of: Photo, region: Region): Promise<Region | null> {
  const places = AROUND.flatMap((dx) => AROUND.map((dy) => ({ dx, dy }))).sort(
    (a, b) => Math.hypot(a.dx, a.dy) - Math.hypot(b.dx, b.dy),
  )
  for (const { dx, dy } of places) {
    const there = moveBy(region, dx * region.width, dy * region.height, of)
    try {
      const found = await of.measureGrey(there, LAMP_ON_CARD)
      if (!found.refused && found.findings.length === 0) return there
    } catch {
      // The frame was moved by hand, or the photo put away.
      return null
    }
  }
  return null
}

type KitOfReading = Pick<
  KitModel,
  'references' | 'curves' | 'earlierCurves' | 'cameras' | 'greys' | 'heats' | 'state'
>

const inThisPhoto = (balance: GreyBalance | null, here: boolean): GreyBalance | null =>
  balance && here ? { ...balance, samePicture: true } : balance

/** @param draft where photo and choices survive a reload */
export function createReadingModel(
  kit: KitOfReading,
  draft: Draft = readingDraft,
  /** Whether the surface that is usual with a camera is taken for this photo too. */
  { usual: takesUsual } = { usual: true },
): ReadingModel {
  const { references, curves, earlierCurves } = kit
  const glow = createPhotoSlot()
  const grey = createGreyModel(glow)
  const stray = createStrayModel(glow)
  const measurement = signal<PhotoMeasurement | null>(null)
  const sweep = signal<SweepModel | null>(null)
  const useStoredCurve = signal(true)
  const map = signal<MadeMap | null>(null)
  const simulatedTruthK = signal<number | null>(null)
  const choices = signal<Choices>(FIRST_CHOICES)
  const object = signal('')
  const named = signal<string | null>(null)
  const device = computed(() => (glow.photo.value ? deviceIdOf(glow.photo.value.facts) : ''))
  const stored = computed<StoredForPhoto | null>(() => {
    const of = glow.photo.value
    if (!of || kit.state.value === 'reading') return null
    const found = storedForPhoto(of, profileOf(device.value, kit))
    // A card photographed today is held against the stored one.
    const mine = grey.balance.value
    const fresh = grey.greySource.value.kind !== 'kept' && mine
    const moved =
      fresh && found.card && cardMoved({ balance: mine, channels: of.channels }, found.card)
    return moved ? { ...found, contradictions: [...found.contradictions, moved] } : found
  })
  /** The photo to which the stored pieces are still to be applied, and what a reload brought back. */
  let waiting: { readonly notes: ReadingNotes | null } | null = null

  const standing = computed(() => {
    const of = glow.photo.value
    return of && curveStanding(of, curves.value, earlierCurves.value, new Date())
  })
  const curveInUse = computed<CurveInUse | null>(() => {
    const swept = sweep.value
    if (swept && swept.result.value?.kind !== 'refused') {
      const check = swept.check.value
      const holds = swept.checkOnly && check?.kind === 'checked' && check.agrees
      if (!holds || !swept.kept) return null
      const at = swept.sweep.base.facts.takenAt ?? new Date().toISOString()
      return { kept: swept.kept, movedBy: curveAge(swept.kept.foundAt, at, at).movedBy }
    }
    const found = standing.value
    return useStoredCurve.value && found?.kind === 'holds' ? found : null
  })

  /**
   * One photo is read: there is no sweep, the photos only check a curve and have done so, or the
   * sweep was refused and its best frame stands for it.
   */
  const single = computed(() => {
    const swept = sweep.value
    if (!swept || swept.result.value?.kind === 'refused') return true
    return swept.checkOnly && swept.check.value !== null
  })

  const curve = computed(() => {
    const swept = sweep.value?.result.value
    return swept?.kind === 'measured' ? swept.curve : (curveInUse.value?.kept.curve ?? null)
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
      balance: inThisPhoto(grey.balance.value, grey.greySource.value.kind === 'this photo'),
      faithfulColours: simulatedTruthK.value !== null,
      choices: choices.value,
      cameraId: cameraIdOf(of.facts),
      takenAt: of.facts.takenAt,
      references: references.value,
      leakTests: profileOf(device.value, kit).stored?.data.leakTests ?? [],
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
        (error: unknown) => {
          // A later call has taken its place, or the photo was put away.
          if ((error as Error).name === 'AbortError' || glow.photo.peek() !== of) return
          // The figure would speak of another region: it goes with the photo's worker.
          measurement.value = null
          glow.refusal.value = { error, name: 'The photo' }
        },
      )
    }),
    effect(() => {
      const here = grey.greySource.value.kind === 'this photo'
      const notes: ReadingNotes = {
        region: glow.region.value,
        choices: choices.value,
        cardLight: grey.cardLight.value,
        cardRegionHere: here ? grey.cardRegion.value : null,
        greyId: grey.greySource.value.kind === 'kept' ? grey.greySource.value.grey.id : null,
        object: object.value,
        named: named.value,
      }
      if (glow.photo.value) void draft.store(NOTES, notes)
    }),
    // Once a photo; what the person says afterwards stands.
    effect(() => {
      const found = stored.value
      if (!found || !waiting) return
      const { notes } = waiting
      waiting = null
      untracked(() => applyStored(found, notes))
    }),
  ]

  function applyStored(found: StoredForPhoto, notes: ReadingNotes | null) {
    const of = glow.photo.peek()
    if (!of) return
    batch(() => {
      const usual = takesUsual ? found.usual : null
      const surface =
        usual && choices.peek().materialId === ''
          ? { materialId: usual.materialId, cover: usual.cover }
          : {}
      if (simulatedTruthK.peek() !== null && choices.peek().materialId === '') {
        choices.value = { ...choices.peek(), materialId: SIMULATED_SURFACE }
      }
      const balanceState = found.balanceState ?? choices.peek().balanceState
      choices.value = { ...choices.peek(), ...surface, balanceState }
      if (usual && object.peek() === '') object.value = usual.object
      if (found.card && grey.greySource.peek().kind === 'none') {
        grey.greySource.value = { kind: 'kept', grey: found.card }
      }
      if (found.cardInPicture && grey.greySource.peek().kind === 'none') placeCard(of)
      if (notes) resumeNotes(notes)
    })
  }

  /** The card lies where it lay in the camera's last picture, or near by; the person may move it. */
  function placeCard(of: Photo) {
    const place = profileOf(device.peek(), kit).stored?.data.cardPlace
    if (!place) return
    const region: Region = {
      shape: 'rectangle',
      x: place.x * of.width,
      y: place.y * of.height,
      width: place.width * of.width,
      height: place.height * of.height,
    }
    grey.cardLight.value = LAMP_ON_CARD
    grey.startCardHere(region, true)
    void findCard(of, region).then((found) => {
      if (found && glow.photo.peek() === of) grey.setCardRegion(found)
    })
  }

  function resumeNotes(notes: ReadingNotes) {
    choices.value = notes.choices
    grey.cardLight.value = notes.cardLight
    object.value = notes.object ?? object.peek()
    if (notes.region) glow.setRegion(notes.region)
    if (notes.cardRegionHere) {
      grey.startCardHere(notes.cardRegionHere)
      grey.setCardRegion(notes.cardRegionHere)
      return
    }
    if (notes.greyId === undefined) return
    const kept = kit.greys.peek().find(({ id }) => id === notes.greyId)
    if (kept) grey.greySource.value = { kind: 'kept', grey: kept }
    else if (notes.greyId === null) grey.greySource.value = { kind: 'none' }
  }

  const nameCamera = (name: string) => {
    const of = glow.photo.peek()
    if (!of || (deviceIdOf(of.facts) !== '' && named.peek() === null)) return
    waiting = { notes: null }
    named.value = name
    glow.setFacts({ ...of.facts, model: name })
  }

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
      grey.greySource.value = { kind: 'none' }
      grey.forgetCardHere()
      choices.value = FIRST_CHOICES
      object.value = ''
      named.value = null
    })
  }

  /** A new photo stands in the slot: what belonged to the former one goes. */
  const begin = (opened: Photo, truthK: number | null, notes: ReadingNotes | null) => {
    endSweep()
    waiting = { notes }
    batch(() => {
      measurement.value = null
      simulatedTruthK.value = truthK
      grey.forgetCardHere()
      const { balanceState } = choices.value
      choices.value = { ...choices.value, balanceState: stateOf(opened, balanceState) }
      named.value = notes?.named ?? null
      if (notes?.named) glow.setFacts({ ...opened.facts, model: notes.named })
    })
    // The kit may have been read long before.
    const found = stored.peek()
    if (found && waiting) {
      waiting = null
      applyStored(found, notes)
    }
  }

  const open = async (
    blob: Blob,
    name: string,
    truthK: number | null,
    notes: ReadingNotes | null,
  ): Promise<boolean> => {
    const [opened, content] = await Promise.all([glow.open(blob, name), contentIdOf(blob)])
    if (!opened) return false
    grey.setGlowContent(content)
    begin(opened, truthK, notes)
    return true
  }

  return {
    ...grey,
    glow,
    measurement,
    sweep,
    stray,
    standing,
    useStoredCurve,
    curve,
    map,
    simulatedTruthK,
    choices,
    object,
    device,
    stored,
    nameCamera,
    input,
    estimate,
    extremesK,
    async open(blob, name, truthK) {
      const photo = { blob, name, truthK: truthK ?? null }
      if (await open(blob, name, photo.truthK, null)) await draft.storePhoto(photo)
    },
    async openSweep(files) {
      const opened: { sweep?: Sweep } = {}
      const name = `${files.length} photos`
      const base = await glow.openBy(name, async (options) => {
        opened.sweep = await openSweep(files, options)
        return opened.sweep.base
      })
      if (!base || !opened.sweep) return
      grey.setGlowContent(newUuid())
      begin(base, null, null)
      void draft.discard()
      const found = standing.peek()
      const kept = found?.kind === 'holds' || found?.kind === 'failed' ? found.kept : null
      sweep.value = createSweepModel(opened.sweep, glow.region, kept)
    },
    clear,
    async resume({ blob, name, truthK }, notes) {
      await open(blob, name, truthK, readingNotesFrom(notes))
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
