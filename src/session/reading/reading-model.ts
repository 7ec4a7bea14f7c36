import { batch, computed, effect, signal, untracked } from '@preact/signals'
import { estimateGlow } from '../../estimate/estimate-glow.ts'
import { linearityOfSweep } from '../../estimate/linearity-by-curve.ts'
import type { GlowEstimate, GlowInput } from '../../estimate/types.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { openPicture } from '../../sources/open-picture.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { openSweep, type Sweep } from '../../sources/sweep/open-sweep.ts'
import { type Draft, type DraftPhoto, readingDraft } from '../draft.ts'
import { profileOf } from '../kit/camera-profile.ts'
import { applyStored, balanceInUse, storedPieces, withHeldLock } from './apply-stored.ts'
import { contentIdOf } from './content-id.ts'
import { extremesOf } from './extremes.ts'
import { type Choices, FIRST_CHOICES, glowInput, levelConditions } from './glow-input.ts'
import { createGreyModel } from './grey-model.ts'
import { createMeasuring } from './measuring.ts'
import { createPhotoDraft } from './photo-draft.ts'
import { cameraIdOf, deviceIdOf, linearityOf, stateOf } from './photo-meaning.ts'
import { createPhotoSlot, saysFailure } from './photo-slot.ts'
import { openRawPair, type RawPairModel } from './raw-pair-model.ts'
import { type ReadingNotes, readingNotesFrom } from './reading-draft.ts'
import type { KitOfReading, MapOfReading, ReadingModel } from './reading-model-type.ts'
import { createStrayModel } from './stray-model.ts'
import { cardToFollow, createSweepModel, type StopsByName, type SweepModel } from './sweep-model.ts'
import { toneInUse } from './tone-in-use.ts'

/** @param draft where photo and choices survive a reload */
export function createReadingModel(
  kit: KitOfReading,
  draft: Draft = readingDraft,
  /** Whether the surface that is usual with a camera is taken for this photo too. */
  { usual: takesUsual } = { usual: true },
): ReadingModel {
  const { references } = kit
  const glow = createPhotoSlot()
  const grey = createGreyModel(glow)
  const sweep = signal<SweepModel | null>(null)
  const pair = signal<RawPairModel | null>(null)
  const useStoredCurve = signal(true)
  const map = signal<MapOfReading | null>(null)
  const simulatedTruthK = signal<number | null>(null)
  const choices = signal<Choices>(FIRST_CHOICES)
  const object = signal('')
  const named = signal<string | null>(null)
  const device = computed(() => (glow.photo.value ? deviceIdOf(glow.photo.value.facts) : ''))
  const stored = computed(() => storedPieces(kit, glow, grey, device.value))
  const applied = { kit, glow, grey, choices, object, device, simulatedTruthK, takesUsual }
  /** The photo to which the stored pieces are still to be applied, and what a reload brought back. */
  let waiting: { readonly notes: ReadingNotes | null } | null = null

  const { standing, curveInUse, single } = toneInUse(kit, glow, {
    sweep,
    pair,
    useStoredCurve,
  })

  const measuring = createMeasuring(glow, curveInUse)
  const { measurement, decodedBy, outdated, failed } = measuring
  const stray = createStrayModel(glow, decodedBy)
  const curve = computed(() => {
    const swept = sweep.value?.result.value
    return swept?.kind === 'measured' ? swept.curve : (decodedBy.value?.kept.curve ?? null)
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
          : linearityOf(of, measured, decodedBy.value),
      balance: balanceInUse(grey, stored.value, pair.value),
      faithfulColours: simulatedTruthK.value !== null,
      choices: withHeldLock(choices.value, stored.value),
      cameraId: cameraIdOf(of.facts),
      takenAt: of.facts.takenAt,
      references: references.value,
      leakTests: profileOf(device.value, kit).stored?.data.leakTests ?? [],
      exposures: profileOf(device.value, kit).stored?.data.exposures ?? [],
      // Cameras that develop their pictures brighten each scene as they like: a sweep's level is its own.
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
    // Parts are decoded by the nominal curve: beside a sweep's light they would mislead.
    const parts = single.value ? measurement.value?.unevenness : null
    return input.value && parts ? extremesOf(input.value, parts) : null
  })

  const notesNow = computed<ReadingNotes>(() => ({
    region: glow.region.value,
    choices: choices.value,
    cardLight: grey.cardLight.value,
    cardRegionHere: grey.greySource.value.kind === 'this photo' ? grey.cardRegion.value : null,
    greyId: grey.greySource.value.kind === 'kept' ? grey.greySource.value.grey.id : null,
    object: object.value,
    named: named.value,
  }))
  const photoDraft = createPhotoDraft(draft, glow.photo, notesNow)

  // Once a photo; what the person says afterwards stands.
  const stopApplying = effect(() => {
    const found = stored.value
    if (!found || !waiting) return
    const { notes } = waiting
    waiting = null
    untracked(() => applyStored(applied, found, notes))
  })

  const nameCamera = (name: string) => {
    const of = glow.photo.peek()
    if (!of || (deviceIdOf(of.facts) !== '' && named.peek() === null)) return
    waiting = { notes: null }
    named.value = name
    glow.setFacts({ ...of.facts, model: name })
  }

  /** The open photos, to which others may be added. */
  let files: readonly File[] = []

  const endSeries = () => {
    sweep.peek()?.dispose()
    pair.peek()?.dispose()
    batch(() => {
      sweep.value = null
      pair.value = null
    })
  }

  const clear = (): Promise<void> => {
    const discarded = draft.discard()
    endSeries()
    stray.slot.close()
    glow.close()
    batch(() => {
      simulatedTruthK.value = null
      grey.greySource.value = { kind: 'none' }
      grey.forgetCardHere()
      choices.value = FIRST_CHOICES
      object.value = ''
      named.value = null
    })
    return discarded
  }

  /** A new photo stands in the slot: what belonged to the former one goes. */
  const begin = (opened: Photo, truthK: number | null, notes: ReadingNotes | null) => {
    endSeries()
    waiting = { notes }
    photoDraft.begin()
    batch(() => {
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
      applyStored(applied, found, notes)
    }
  }

  const open = async ({ blob, name, truthK }: DraftPhoto, notes: ReadingNotes | null) => {
    let content = ''
    // The photo begins when all of it is known: it is measured from the moment it stands in the slot.
    const opened = await glow.openBy(name, async (options) => {
      const [photo, id] = await Promise.all([openPicture(blob, options), contentIdOf(blob)])
      content = id
      return photo
    })
    if (!opened) return false
    files = [new File([blob], name, { type: blob.type })]
    grey.setGlowContent(content)
    begin(opened, truthK, notes)
    return true
  }

  const pairWith = async (raw: File) => {
    const found = await openRawPair(glow, raw)
    if (found) pair.value = found
  }

  const openSeries = async (
    given: readonly File[],
    said: StopsByName | null,
    notes: ReadingNotes | null,
  ) => {
    const before = glow.region.peek()
    const opened: { sweep?: Sweep } = {}
    const base = await glow.openBy(`${given.length} photos`, async (options) => {
      opened.sweep = await openSweep(given, options)
      return opened.sweep.base
    })
    if (!base || !opened.sweep) return
    files = given
    grey.setGlowContent(newUuid())
    begin(base, null, notes)
    // Added photos show the same scene: the frame stays where the person has put it.
    if (said && before) glow.setRegion(before)
    // Of a sweep only what was said is stored, for a tap on Undo.
    void draft.discard()
    photoDraft.follow()
    const found = standing.peek()
    const kept = found?.kind === 'holds' || found?.kind === 'failed' ? found.kept : null
    sweep.value = createSweepModel(
      opened.sweep,
      glow.region,
      kept,
      said,
      cardToFollow(grey, choices),
      (error) => saysFailure(glow, base, error, 'The sweep'),
    )
  }

  return {
    ...grey,
    glow,
    measurement,
    outdated,
    failed,
    sweep,
    pair,
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
      if (await open(photo, null)) await photoDraft.store(photo)
    },
    openFiles: () => files,
    openSweep: (given, notes) => openSeries(given, null, readingNotesFrom(notes)),
    addPhotos: (more) => openSeries([...files, ...more], sweep.peek()?.stopsByName() ?? null, null),
    async openPair(file, raw) {
      const photo = { blob: file, name: file.name, truthK: null, raw }
      if (!(await open(photo, null))) return
      await photoDraft.store(photo)
      await pairWith(raw)
    },
    clear,
    async resume(photo, notes) {
      if (!(await open(photo, readingNotesFrom(notes)))) return
      photoDraft.follow()
      if (photo.raw) await pairWith(photo.raw)
    },
    dispose() {
      stopApplying()
      photoDraft.dispose()
      measuring.dispose()
      endSeries()
      stray.dispose()
      grey.disposeGrey()
      glow.close()
    },
  }
}
