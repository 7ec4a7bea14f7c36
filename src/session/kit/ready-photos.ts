/** All photos of making a camera ready at once: sorted, confirmed by the person, stored. */
import { batch, computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { BalanceState } from '../../estimate/types.ts'
import type { CardLightId } from '../../light/card-light.ts'
import type { Log } from '../../log/schema/types.ts'
import { lookAtPhoto, type PhotoLook } from '../../sources/photo/photo-look.ts'
import { NO_DRAFT } from '../draft.ts'
import { firstValueUnless } from '../first-value.ts'
import { middleOf } from '../reading/find-card.ts'
import { createGreyModel } from '../reading/grey-model.ts'
import { deviceIdOf } from '../reading/photo-meaning.ts'
import { createPhotoSlot, type OpeningRefusal } from '../reading/photo-slot.ts'
import { createReadingModel } from '../reading/reading-model.ts'
import type { ReadingModel } from '../reading/reading-model-type.ts'
import { type PhotoGroup, sortPhotos } from '../reading/sort-photos.ts'
import { cardHeld } from '../reading/stored-for-photo.ts'
import { isLock, rememberLock } from './camera-store.ts'
import { createCaptureModel } from './capture-model.ts'
import type { KitModel } from './kit-model.ts'
import { nearestMelt } from './nearest-melt.ts'
import type { ReadyJob } from './ready-job.ts'
import { storeCard } from './store-card.ts'
import { storeFoundCurve } from './store-curve.ts'
import type { StoredGrey } from './stored-items.ts'
import { subjectName } from './subject.ts'

/** What a group of photos is taken for. */
export type Role = 'card' | 'known heat' | 'sweep' | 'left out'

export interface SortedGroup {
  readonly group: PhotoGroup<PhotoLook>
  readonly role: Role
  /** What came of storing it; null before. */
  readonly outcome:
    | 'card'
    /** It agrees with another photo of the card. */
    | 'card, lock held'
    | 'known heat'
    | 'known heat by one photo'
    | 'known heat, curve open'
    | 'curve'
    | 'refused'
    | null
}

export interface ReadyPhotosModel {
  readonly groups: ReadonlySignal<readonly SortedGroup[]>
  readonly failed: ReadonlySignal<readonly OpeningRefusal[]>
  /** 0..1 while photos are looked at or stored; null at rest. */
  readonly progress: ReadonlySignal<number | null>
  readonly balanceState: Signal<BalanceState>
  readonly cardLight: Signal<CardLightId>
  /** Surface beside the melt; empty while nobody has said it. */
  readonly materialId: Signal<string>
  add(files: readonly File[]): Promise<void>
  setRole(at: number, role: Role): void
  /** Stores everything that has a role; resolves to whether all of it could be. */
  store(log: Log, now: Date): Promise<boolean>
  dispose(): void
}

/** Salt is redder than a lamp: G/R of a glow below about 1150 °C in a file's own space. */
const REDDER_THAN_A_LAMP = 0.2

export function createReadyPhotos(kit: KitModel, job: ReadyJob): ReadyPhotosModel {
  const groups = signal<readonly SortedGroup[]>([])
  const failed = signal<readonly OpeningRefusal[]>([])
  const progress = signal<number | null>(null)
  const stored = job.lock()
  const balanceState = signal<BalanceState>(
    stored?.kind === 'locked' ? stored.state : { kind: 'unknown', colourTemperatureK: null },
  )
  const cardLight = signal<CardLightId>({ kind: 'daylight', illuminant: 'D65' })
  const materialId = signal('')
  const looks: PhotoLook[] = []
  let disposed = false

  const setOutcome = (at: number, outcome: SortedGroup['outcome']) => {
    const one = groups.peek()[at]
    if (one) groups.value = groups.peek().with(at, { ...one, outcome })
  }

  const storeTheCard = async (log: Log, { group }: SortedGroup, now: Date) => {
    const [look] = group.photos
    if (!look) return null
    const glow = createPhotoSlot()
    const grey = createGreyModel(glow)
    try {
      grey.cardLight.value = cardLight.peek()
      await grey.openCard(look.file, look.name)
      if (look.neutralBox) grey.setCardRegion(middleOf(look, look.neutralBox))
      const gone = computed(() => grey.other.refusal.value !== null)
      const found = await firstValueUnless(grey.card, gone)
      if (!found || found.refused) return null
      const named = look.facts.model
        ? look.facts
        : { ...look.facts, model: job.device.peek() || null }
      const inHand = {
        ...grey,
        glow,
        balanceKind: balanceState.peek().kind,
        facts: named,
        simulated: false,
      }
      return await storeCard(log, inHand, kit.greys.peek(), '', now)
    } finally {
      grey.disposeGrey()
    }
  }

  /** Opens the photos of a group in a reading, and waits until they are read. */
  const read = async (model: ReadingModel, { group }: SortedGroup): Promise<boolean> => {
    const files = group.photos.map(({ file }) => file)
    const [file, raw] = files
    if (!file) return false
    if (group.kind === 'pair' && raw) await model.openPair(file, raw)
    else if (files.length > 1) await model.openSweep(files)
    else await model.open(file, file.name)
    if (!model.glow.photo.peek()) return false
    const sweep = model.sweep.peek()
    if (sweep && !sweep.checkOnly) await firstValueUnless(sweep.result, sweep.failed)
    const pair = model.pair.peek()
    if (pair) await firstValueUnless(pair.result, pair.failed)
    return (await firstValueUnless(model.measurement, model.failed)) !== null
  }

  const storeTheHeat = async (
    log: Log,
    one: SortedGroup,
    keptNow: StoredGrey | null,
    now: Date,
  ) => {
    const subject = { kind: 'known heat', choice: { id: nearestMelt(null) } } as const
    const capture = createCaptureModel(kit, subject, NO_DRAFT)
    try {
      if (!(await read(capture.reading, one))) return 'refused'
      const { reading } = capture
      batch(() => {
        reading.choices.value = {
          ...reading.choices.peek(),
          materialId: materialId.peek(),
          balanceState: balanceState.peek(),
        }
        const card = keptNow ?? kit.greys.peek().find(({ channels }) => channels === 'display-p3')
        if (card) reading.greySource.value = { kind: 'kept', grey: card }
      })
      const item = capture.item(subjectName(subject), now)
      if (!item) return 'refused'
      await log.kit.add(item)
      const curve = await storeFoundCurve(log, reading, now)
      if (curve || one.group.photos.length === 1) return 'known heat'
      const swept = reading.sweep.peek()?.result.peek()
      return swept?.kind === 'measured' ? 'known heat, curve open' : 'known heat by one photo'
    } finally {
      capture.dispose()
    }
  }

  const storeTheCurve = async (log: Log, one: SortedGroup, now: Date) => {
    const model = createReadingModel(kit, NO_DRAFT, { usual: false })
    try {
      if (!(await read(model, one))) return 'refused'
      return (await storeFoundCurve(log, model, now)) ? 'curve' : 'refused'
    } finally {
      model.dispose()
    }
  }

  return {
    groups,
    failed,
    progress,
    balanceState,
    cardLight,
    materialId,
    async add(files) {
      progress.value = 0
      for (const [i, file] of files.entries()) {
        try {
          looks.push(await lookAtPhoto(file))
        } catch (error) {
          failed.value = [...failed.peek(), { error, name: file.name }]
        }
        if (disposed) return
        progress.value = (i + 1) / files.length
      }
      batch(() => {
        groups.value = rolesOf(sortPhotos(looks))
        progress.value = null
      })
    },
    setRole(at, role) {
      const one = groups.peek()[at]
      if (one) groups.value = groups.peek().with(at, { ...one, role })
    },
    async store(log, now) {
      const named = looks.find(({ facts }) => deviceIdOf(facts) !== '') ?? looks[0]
      if (!named) return false
      progress.value = 0
      try {
        await job.stateLock(log, balanceState.peek())
        await job.seen(log, named.facts)
        // The card first: the known heat is read with it.
        const order: readonly Role[] = ['card', 'known heat', 'sweep']
        const all = groups.peek().map((one, at) => ({ one, at }))
        const work = order.flatMap((role) => all.filter(({ one }) => one.role === role))
        let card: StoredGrey | null = null
        for (const [i, { one, at }] of work.entries()) {
          if (one.role === 'card') {
            const kept = await storeTheCard(log, one, now)
            // A balance that is free may agree too, in one light, and holds nothing.
            const locked = isLock(balanceState.peek())
            const held = locked && kept !== null && card !== null && cardHeld(kept, card)
            if (held) {
              balanceState.value = { ...balanceState.peek(), lock: 'verified' }
              const device = deviceIdOf(named.facts) || job.device.peek()
              await rememberLock(log, device, named.facts, balanceState.peek(), now)
            }
            card ??= kept
            setOutcome(at, held ? 'card, lock held' : kept ? 'card' : 'refused')
          } else if (one.role === 'known heat')
            setOutcome(at, await storeTheHeat(log, one, card, now))
          else setOutcome(at, await storeTheCurve(log, one, now))
          progress.value = (i + 1) / work.length
        }
        return groups
          .peek()
          .every(({ outcome, role }) => role === 'left out' || outcome !== 'refused')
      } finally {
        progress.value = null
      }
    },
    dispose() {
      disposed = true
    },
  }
}

/** A first guess: the reddest sweep is the salt, others are for the curve. */
function rolesOf(groups: readonly PhotoGroup<PhotoLook>[]): SortedGroup[] {
  const redness = ({ photos }: PhotoGroup<PhotoLook>) =>
    Math.min(...photos.map(({ glow }) => (glow.kind === 'found' ? glow.greenOverRed : Infinity)))
  const glows = groups.filter(({ kind }) => kind !== 'card')
  const sweeps = glows.filter(({ kind }) => kind === 'sweep' || kind === 'pair')
  const candidates = sweeps.length > 0 ? sweeps : glows
  const named = candidates.find(({ photos }) => /salt/i.test(photos[0]?.name ?? ''))
  const reddest = candidates.reduce<PhotoGroup<PhotoLook> | null>(
    (best, one) => (best === null || redness(one) < redness(best) ? one : best),
    null,
  )
  const salt = named ?? (reddest && redness(reddest) < REDDER_THAN_A_LAMP ? reddest : null)
  return groups.map((group) => ({
    group,
    role:
      group.kind === 'card'
        ? 'card'
        : group === salt
          ? 'known heat'
          : group.kind === 'sweep' || group.kind === 'pair'
            ? 'sweep'
            : 'left out',
    outcome: null,
  }))
}
