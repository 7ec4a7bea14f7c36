import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { RemainingUncertainty } from '../../estimate/remaining-uncertainty.ts'
import type { GlowInput } from '../../estimate/types.ts'
import { currentInputs } from '../../log/schema/reading-schema.ts'
import type { Log } from '../../log/schema/types.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import { carriedReading, OPEN } from '../carried-reading.ts'
import { inSlices } from '../in-slices.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { storedGlow } from '../log/stored-glow.ts'

/** A camera in one state, with its newest photo to suppose others by. */
export interface RemainingCamera {
  readonly key: string
  readonly cameraId: string
  readonly like: GlowInput
}

export interface RemainingModel {
  /** Null until they are found. */
  readonly cameras: ReadonlySignal<readonly RemainingCamera[] | null>
  readonly key: Signal<string>
  /** Null while it is worked out, or without a camera. */
  readonly columns: ReadonlySignal<readonly RemainingUncertainty[] | null>
  readonly failure: ReadonlySignal<unknown>
  dispose(): void
}

/** Dark red to yellow. */
const TEMPERATURES_K = [700, 900, 1100, 1300].map(kelvinFromCelsius)
const MOST_READINGS = 60

/** Key of the reading that is asked about. */
export const ASKED = 'asked'

/**
 * Cameras of the log and the kit, newest photo first, each with today's known heats.
 *
 * @param readingId a reading of the log to begin with, or the open one
 */
export function createRemainingModel(
  log: Promise<Log>,
  kit: KitModel,
  readingId = '',
): RemainingModel {
  const photos = signal<readonly GlowInput[] | null>(null)
  const asked = signal<GlowInput | null>(readingId === OPEN ? openInput() : null)
  const key = signal(asked.value ? ASKED : '')
  const columns = signal<readonly RemainingUncertainty[] | null>(null)
  const failure = signal<unknown>(null)
  let work = new AbortController()
  let disposed = false

  log
    .then(async (opened) => {
      const view = await opened.find({
        methods: ['photo', 'raw', 'sweep', 'live'],
        simulated: false,
        demo: false,
      })
      const stored = await Promise.all(view.ids(0, MOST_READINGS).map((id) => opened.get(id)))
      const about = readingId && readingId !== OPEN ? await opened.get(readingId) : undefined
      if (disposed) return
      const input = about?.state === 'sound' ? storedGlow(currentInputs(about.reading)) : null
      if (input) {
        asked.value = input
        key.value = ASKED
      }
      photos.value = stored.flatMap((found) =>
        found?.state === 'sound' ? (storedGlow(currentInputs(found.reading)) ?? []) : [],
      )
    })
    .catch((error: unknown) => {
      if (!disposed) failure.value = error
    })

  const cameras = computed(() => {
    if (photos.value === null) return null
    const references = kit.references.value
    const byKey = new Map<string, RemainingCamera>()
    const about = asked.value
    if (about) byKey.set(ASKED, { key: ASKED, cameraId: about.cameraId, like: about })
    for (const like of [...photos.value, ...references.map(asPhoto)]) {
      const { cameraId, channels, balanceState } = like
      const mine = [cameraId, channels, balanceState.kind].join(' | ')
      if (!byKey.has(mine)) byKey.set(mine, { key: mine, cameraId, like: { ...like, references } })
    }
    return [...byKey.values()]
  })

  const stop = effect(() => {
    const all = cameras.value ?? []
    const chosen = all.find((one) => one.key === key.value) ?? all[0]
    work.abort()
    work = new AbortController()
    columns.value = null
    if (!chosen) return
    const { signal: stopped } = work
    import('../../estimate/remaining-uncertainty.ts')
      .then(({ remainingUncertainty }) =>
        inSlices(remainingUncertainty(chosen.like, TEMPERATURES_K), stopped),
      )
      .then((found) => {
        if (found && !stopped.aborted) columns.value = found
      })
      .catch((error: unknown) => {
        if (!disposed) failure.value = error
      })
  })

  return {
    cameras,
    key,
    columns,
    failure,
    dispose() {
      disposed = true
      work.abort()
      stop()
    },
  }
}

const openInput = (): GlowInput | null => {
  const record = carriedReading.peek()?.record?.()
  return record ? storedGlow(currentInputs(record)) : null
}

/** A known heat's photo as one of a glow. */
function asPhoto(reference: KitModel['references']['value'][number]): GlowInput {
  const { glow, channels, balance, balanceState, linearity, surface, cameraId, takenAt } = reference
  return {
    glow,
    channels,
    cameraToXyz: null,
    balance,
    balanceState,
    linearity,
    surface,
    cameraId,
    takenAt,
    window: null,
    quality: {
      clippedShare: 0,
      floorShare: [0, 0, 0],
      backgroundShare: 0,
      glowWidthPixels: 100,
      chromaSubsampled: false,
    },
    references: [],
  }
}
